#include "app/report/trace_svg.h"

#include <algorithm>
#include <cmath>
#include <iomanip>
#include <sstream>

#include "app/report/axis.h"

namespace nearpoint {
namespace {

constexpr double kWidth = 1200;
constexpr double kHeight = 640;
constexpr double kLeft = 92;
constexpr double kRight = 1172;
constexpr double kTop = 96;
constexpr double kBottom = 520;
constexpr double kStem = 12;   // keeps the marks of the eyes off those of the reports
constexpr double kHole = 0.5;  // s without a distance that interrupt the line

// Blue and orange differ in hue and in lightness for every kind of colour vision.
constexpr std::string_view kInk = "#1c2530";
constexpr std::string_view kTrace = "#3d4f63";
constexpr std::string_view kBreak = "#b34700";
constexpr std::string_view kRecovery = "#0b5cad";
constexpr std::string_view kFaint = "#8a94a0";

struct Point {
  double seconds;
  double mm;
};

std::string Escape(std::string_view text) {
  std::string out;
  for (const char c : text) {
    switch (c) {
      case '&':
        out += "&amp;";
        break;
      case '<':
        out += "&lt;";
        break;
      case '>':
        out += "&gt;";
        break;
      case '"':
        out += "&quot;";
        break;
      default:
        out += c;
    }
  }
  return out;
}

std::string Fixed(double value, int decimals) {
  std::ostringstream out;
  out.imbue(std::locale::classic());
  out << std::fixed << std::setprecision(decimals) << value;
  return out.str();
}

class Canvas {
 public:
  Canvas(double seconds_low, double seconds_high, double mm_high)
      : seconds_low_(seconds_low), seconds_high_(seconds_high), mm_high_(mm_high) {}

  [[nodiscard]] double X(double seconds) const {
    return kLeft + (kRight - kLeft) * (seconds - seconds_low_) / (seconds_high_ - seconds_low_);
  }
  [[nodiscard]] double Y(double mm) const {
    return kBottom - (kBottom - kTop) * std::clamp(mm / mm_high_, 0.0, 1.0);
  }
  [[nodiscard]] double seconds_low() const { return seconds_low_; }
  [[nodiscard]] double seconds_high() const { return seconds_high_; }
  [[nodiscard]] double mm_high() const { return mm_high_; }

  std::ostringstream& out() { return out_; }

  void Text(double x, double y, std::string_view anchor, double size, std::string_view fill,
            std::string_view text, std::string_view extra = "") {
    out_ << "<text x=\"" << Fixed(x, 1) << "\" y=\"" << Fixed(y, 1) << "\" text-anchor=\"" << anchor
         << "\" font-size=\"" << Fixed(size, 0) << "\" fill=\"" << fill << "\"" << extra << ">"
         << Escape(text) << "</text>\n";
  }
  void Line(double x1, double y1, double x2, double y2, std::string_view stroke, double width,
            std::string_view extra = "") {
    out_ << "<line x1=\"" << Fixed(x1, 1) << "\" y1=\"" << Fixed(y1, 1) << "\" x2=\""
         << Fixed(x2, 1) << "\" y2=\"" << Fixed(y2, 1) << "\" stroke=\"" << stroke
         << "\" stroke-width=\"" << Fixed(width, 1) << "\"" << extra << "/>\n";
  }
  // down: the tip at (x, y) points down.
  void Triangle(double x, double y, bool down, bool filled, std::string_view colour) {
    const double h = down ? -14 : 14;
    out_ << "<path d=\"M" << Fixed(x, 1) << ' ' << Fixed(y, 1) << " l-8 " << Fixed(h, 0)
         << " l16 0 z\" stroke=\"" << colour << "\" stroke-width=\"2.2\" fill=\""
         << (filled ? colour : "#ffffff") << "\"/>\n";
  }

  // A diamond on a stem whose foot is at (x, y).
  void Diamond(double x, double y, bool below, bool filled, std::string_view colour) {
    const double sign = below ? 1 : -1;
    const double near_end = y + sign * kStem;
    Line(x, y, x, near_end, colour, 1.6);
    out_ << "<path class=\"eye\" d=\"M" << Fixed(x, 1) << ' ' << Fixed(near_end, 1) << " l5 "
         << Fixed(6 * sign, 0) << " l-5 " << Fixed(6 * sign, 0) << " l-5 " << Fixed(-6 * sign, 0)
         << " z\" stroke=\"" << colour << "\" stroke-width=\"1.8\" fill=\""
         << (filled ? colour : "#ffffff") << "\"/>\n";
  }

 private:
  double seconds_low_, seconds_high_, mm_high_;
  std::ostringstream out_;
};

double Shown(Length distance, ReferencePlane plane) {
  return MoveToPlane(distance, ReferencePlane::kCorneal, plane).mm();
}

std::vector<Point> Points(const TracePicture& picture) {
  std::vector<Point> points;
  for (const DistanceSample& sample : picture.samples) {
    if (!sample.distance || !std::isfinite(sample.distance->value.mm())) continue;
    points.push_back({ToSeconds(sample.time), Shown(sample.distance->value, picture.plane)});
  }
  return points;
}

Canvas MakeCanvas(const TracePicture& picture, const std::vector<Point>& points) {
  double low = 0;
  double high = 1;
  if (!picture.samples.empty()) {
    low = ToSeconds(picture.samples.front().time);
    high = std::max(ToSeconds(picture.samples.back().time), low + 1);
  }
  double mm = 100;
  for (const Point& point : points) mm = std::max(mm, point.mm);
  return Canvas(low, high, 1.06 * mm);
}

void DrawAxes(Canvas& canvas, const TracePicture& picture) {
  for (const double mm : RoundMarks(0, canvas.mm_high(), 8)) {
    canvas.Line(kLeft, canvas.Y(mm), kRight, canvas.Y(mm), "#e3e7ec", 1);
    canvas.Text(kLeft - 10, canvas.Y(mm) + 5, "end", 16, kInk, Fixed(mm, 0));
  }
  for (const double s : RoundMarks(canvas.seconds_low(), canvas.seconds_high(), 10)) {
    canvas.Line(canvas.X(s), kBottom, canvas.X(s), kBottom + 6, kInk, 1.2);
    canvas.Text(canvas.X(s), kBottom + 26, "middle", 16, kInk, Fixed(s, 0));
  }
  canvas.Line(kLeft, kBottom, kRight, kBottom, kInk, 1.2);
  canvas.Text((kLeft + kRight) / 2, kBottom + 52, "middle", 16, kInk, "time, seconds");
  const double middle = (kTop + kBottom) / 2;
  canvas.Text(30, middle, "middle", 16, kInk,
              "target distance from the " + std::string(ToText(picture.plane)) + ", mm",
              " transform=\"rotate(-90 30 " + Fixed(middle, 0) + ")\"");
}

void DrawBand(Canvas& canvas, const std::optional<Band>& band, std::string_view colour) {
  if (!band) return;
  const double top = canvas.Y(band->high.value_or(canvas.mm_high()));
  const double bottom = canvas.Y(band->low);
  canvas.out() << "<rect x=\"" << Fixed(kLeft, 0) << "\" y=\"" << Fixed(top, 1) << "\" width=\""
               << Fixed(kRight - kLeft, 0) << "\" height=\""
               << Fixed(std::max(bottom - top, 1.0), 1) << "\" fill=\"" << colour
               << "\" fill-opacity=\"0.14\"/>\n";
  if (band->value) {
    canvas.Line(kLeft, canvas.Y(*band->value), kRight, canvas.Y(*band->value), colour, 1.6);
  }
}

void DrawCutOff(Canvas& canvas, const Estimate& estimate) {
  const double y = canvas.Y(estimate.cut_off.mm());
  canvas.Line(kLeft, y, kRight, y, kInk, 1.2, " stroke-dasharray=\"8 5\"");
  canvas.Text(kRight - 4, y + 18, "end", 14, kInk,
              "cut-off " + Fixed(estimate.cut_off.mm(), 1) + " mm");
}

void DrawTrace(Canvas& canvas, const std::vector<Point>& points) {
  std::ostringstream path;
  for (std::size_t i = 0; i < points.size(); ++i) {
    const bool joined = i > 0 && points[i].seconds - points[i - 1].seconds <= kHole;
    path << (joined ? 'L' : 'M') << Fixed(canvas.X(points[i].seconds), 1) << ' '
         << Fixed(canvas.Y(points[i].mm), 1);
  }
  canvas.out() << "<path d=\"" << path.str() << "\" fill=\"none\" stroke=\"" << kTrace
               << "\" stroke-width=\"1.8\" stroke-linejoin=\"round\"/>\n";
}

void DrawTrials(Canvas& canvas, const TracePicture& picture) {
  for (const Trial& trial : picture.trials) {
    const bool counts = !trial.set_aside;
    const double left = canvas.X(ToSeconds(trial.start));
    const double right = canvas.X(ToSeconds(trial.end));
    canvas.Line(left, kTop, left, kBottom, "#c3cad2", 1, " stroke-dasharray=\"3 5\"");
    canvas.Text((left + right) / 2, kTop - 8, "middle", 16, counts ? kInk : kFaint,
                "trial " + std::to_string(trial.number) + (counts ? "" : ", set aside"));
    if (trial.censored == Censoring::kNone && trial.break_point) {
      canvas.Triangle(canvas.X(ToSeconds(trial.break_point->time)),
                      canvas.Y(Shown(trial.break_point->value.value, picture.plane)), true, true,
                      counts ? kBreak : kFaint);
    } else if (trial.limit) {
      const double y = canvas.Y(Shown(*trial.limit, picture.plane));
      const bool below = trial.censored == Censoring::kBelow;
      canvas.Text(
          (left + right) / 2, below ? y + 20 : y - 10, "middle", 16, counts ? kBreak : kFaint,
          (below ? "at most " : "at least ") + Fixed(Shown(*trial.limit, picture.plane), 0));
    }
    if (trial.recovery) {
      canvas.Triangle(canvas.X(ToSeconds(trial.recovery->time)),
                      canvas.Y(Shown(trial.recovery->value.value, picture.plane)), false, false,
                      counts ? kRecovery : kFaint);
    }
  }
  for (std::size_t i = 0; i < picture.true_breaks.size() && i < picture.trials.size(); ++i) {
    const Trial& trial = picture.trials[i];
    const double y = canvas.Y(Shown(picture.true_breaks[i], picture.plane));
    const double x = canvas.X(ToSeconds(trial.break_point ? trial.break_point->time : trial.start));
    canvas.Line(x - 16, y, x + 16, y, kInk, 2.2);
  }
}

void DrawEyes(Canvas& canvas, const TracePicture& picture) {
  for (std::size_t i = 0; i < picture.eyes.size() && i < picture.trials.size(); ++i) {
    const bool counts = !picture.trials[i].set_aside;
    const auto draw = [&](const std::optional<TraceMark>& mark, bool is_break,
                          std::string_view colour) {
      if (!mark) return;
      canvas.Diamond(canvas.X(ToSeconds(mark->time)),
                     canvas.Y(Shown(mark->distance, picture.plane)), is_break, is_break,
                     counts ? colour : kFaint);
    };
    draw(picture.eyes[i].break_point, true, kBreak);
    draw(picture.eyes[i].recovery, false, kRecovery);
  }
}

std::string BandText(std::string_view name, const std::optional<Band>& band) {
  std::string text(name);
  if (!band) return text + ": no value";
  const std::string level = Fixed(100 * band->level, 0) + " % band ";
  if (band->value && band->high) {
    return text + ' ' + Fixed(*band->value, 0) + " mm (" + level + Fixed(band->low, 0) + " to " +
           Fixed(*band->high, 0) + ")";
  }
  if (band->high)
    return text + " at most " + Fixed(*band->high, 0) + " mm (" + level + "from there down)";
  return text + " at least " + Fixed(band->low, 0) + " mm (" + level + "from there up)";
}

void DrawLegend(Canvas& canvas, const TracePicture& picture) {
  constexpr double kY = kHeight - 40;
  canvas.Triangle(kLeft + 8, kY + 2, true, true, kBreak);
  canvas.Text(kLeft + 26, kY, "start", 16, kInk, BandText("break", picture.estimate.break_mm));
  canvas.Triangle(kLeft + 420, kY - 12, false, false, kRecovery);
  canvas.Text(kLeft + 438, kY, "start", 16, kInk,
              BandText("recovery", picture.estimate.recovery_mm));
  if (!picture.true_breaks.empty()) {
    canvas.Line(kLeft + 838, kY - 5, kLeft + 870, kY - 5, kInk, 2.2);
    canvas.Text(kLeft + 880, kY, "start", 16, kInk, "true break");
  }
  const bool seen = std::ranges::any_of(
      picture.eyes, [](const EyeMarks& eyes) { return eyes.break_point || eyes.recovery; });
  if (!seen) return;
  constexpr double kEyesY = kY + 26;
  canvas.Diamond(kLeft + 8, kEyesY - 18, true, true, kBreak);
  canvas.Text(kLeft + 26, kEyesY, "start", 16, kInk, "break seen in the eyes (foot of the stem)");
  canvas.Diamond(kLeft + 420, kEyesY + 6, false, false, kRecovery);
  canvas.Text(kLeft + 438, kEyesY, "start", 16, kInk,
              "recovery seen in the eyes (foot of the stem)");
}

}  // namespace

std::string TraceSvg(const TracePicture& picture) {
  const std::vector<Point> points = Points(picture);
  Canvas canvas = MakeCanvas(picture, points);
  canvas.out() << "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 " << Fixed(kWidth, 0)
               << ' ' << Fixed(kHeight, 0) << "\" width=\"" << Fixed(kWidth, 0) << "\" height=\""
               << Fixed(kHeight, 0)
               << "\" font-family=\"'DejaVu Sans', 'Noto Sans', sans-serif\">\n"
               << "<title>" << Escape(picture.title) << "</title>\n"
               << "<rect width=\"100%\" height=\"100%\" fill=\"#ffffff\"/>\n";
  canvas.Text(kLeft, 42, "start", 22, kInk, picture.title, " font-weight=\"bold\"");
  DrawAxes(canvas, picture);
  DrawBand(canvas, picture.estimate.break_mm, kBreak);
  DrawBand(canvas, picture.estimate.recovery_mm, kRecovery);
  DrawCutOff(canvas, picture.estimate);
  DrawTrace(canvas, points);
  DrawTrials(canvas, picture);
  DrawEyes(canvas, picture);
  if (points.empty()) {
    canvas.Text((kLeft + kRight) / 2, (kTop + kBottom) / 2, "middle", 20, kInk,
                "no distance was measured");
  }
  DrawLegend(canvas, picture);
  canvas.out() << "</svg>\n";
  return canvas.out().str();
}

}  // namespace nearpoint
