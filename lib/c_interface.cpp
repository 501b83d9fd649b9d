// The C interface of the library; see racking/racking.h.
