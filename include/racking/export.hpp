// Marks what the shared library exports; everything else is hidden.
#pragma once

#if defined(RACKING_STATIC)
#define RACKING_EXPORT
#else
#define RACKING_EXPORT __attribute__((visibility("default")))
#endif
