// Pictures of the eyes at break and recovery in the home's file, and the person's word that they
// may be kept: without it there are none.
#pragma once

#include <vector>

#include "app/records/eye_picture.h"
#include "app/store/store.h"

namespace nearpoint {

class EyePictureStore {
 public:
  explicit EyePictureStore(Store& store) : store_(store) {}

  // Until it is said otherwise, nobody agreed. Nobody in particular (0) cannot agree.
  [[nodiscard]] bool MayBeKept(RowId person) const;
  Result<void> SetMayBeKept(RowId person, bool may) const;

  // kBadValue: no such picture (IsEyePicture), or its trial is not in the file.
  Result<void> Add(RowId session, const EyePicture& picture) const;
  [[nodiscard]] Result<std::vector<EyePicture>> Of(RowId session) const;  // by trial and moment
  [[nodiscard]] Result<int> CountOf(RowId person) const;
  // All of that person; overwritten in the file.
  Result<void> DeleteAll(RowId person) const;

 private:
  Store& store_;
};

}  // namespace nearpoint
