#include "racking/version.hpp"

namespace racking {
inline namespace v1 {

#define RACKING_TEXT(x) #x
#define RACKING_DOTTED(a, b, c) RACKING_TEXT(a) "." RACKING_TEXT(b) "." RACKING_TEXT(c)

std::string_view version() noexcept {
  return RACKING_DOTTED(RACKING_VERSION_MAJOR, RACKING_VERSION_MINOR, RACKING_VERSION_PATCH);
}

}  // namespace v1
}  // namespace racking
