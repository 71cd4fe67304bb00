#include "app/event/session_files.h"

#include <cstdio>

namespace nearpoint {

std::vector<SessionFile> SessionFilesOf(const EventState& state) {
  std::vector<SessionFile> files;
  for (std::size_t i = 0; i < state.children.size(); ++i) {
    int nth = 0;
    for (const Measurement& made : state.children[i].measurements) {
      if (!made.stands) continue;
      char name[48];
      if (++nth == 1) {
        std::snprintf(name, sizeof name, "%04zu.json", i + 1);
      } else {
        std::snprintf(name, sizeof name, "%04zu-%d.json", i + 1, nth);
      }
      files.push_back({&state.children[i], &made, name});
    }
  }
  return files;
}

}  // namespace nearpoint
