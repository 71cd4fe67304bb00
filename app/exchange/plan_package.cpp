#include "app/exchange/plan_package.h"

#include <algorithm>

namespace nearpoint {
namespace {

constexpr const char* kForWhom = "for-whom.txt";

}  // namespace

Package MakePlanPackage(const SentPlan& plan, const std::string& from) {
  Package package;
  package.from = from;
  package.items.push_back({ItemKind::kPlan, "exercise-plan.json", plan.text});
  package.items.push_back({ItemKind::kNote, kForWhom, plan.for_whom});
  return package;
}

Result<SentPlan> PlanOf(const Package& package) {
  if (std::ranges::count(package.items, ItemKind::kPlan, &PackageItem::kind) != 1) {
    return Fail(ErrorCode::kBadValue, "There is not exactly one exercise plan in this file.");
  }
  const auto whom = std::ranges::find(package.items, kForWhom, &PackageItem::name);
  if (whom == package.items.end() || whom->kind != ItemKind::kNote) {
    return Fail(ErrorCode::kBadValue, "The plan does not say for whom it is.");
  }
  const auto plan = std::ranges::find(package.items, ItemKind::kPlan, &PackageItem::kind);
  return SentPlan{whom->content, plan->content};
}

}  // namespace nearpoint
