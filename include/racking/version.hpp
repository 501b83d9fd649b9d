// The version of the library.
#pragma once

#include <string_view>

#include "racking/export.hpp"

#define RACKING_VERSION_MAJOR 0
#define RACKING_VERSION_MINOR 1
#define RACKING_VERSION_PATCH 0

namespace racking {
inline namespace v1 {

/// The version of the library that runs, "0.1.0". Static storage.
RACKING_EXPORT std::string_view version() noexcept;

}  // namespace v1
}  // namespace racking
