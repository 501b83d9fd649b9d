/* Compiled as strict C99: the C header must need nothing more. */
#include "racking/racking.h"

extern racking_status (*const read_json)(const racking_reader*, const char*, size_t,
                                         const racking_read_options*, char**, size_t*,
                                         racking_error**);
racking_status (*const read_json)(const racking_reader*, const char*, size_t,
                                  const racking_read_options*, char**, size_t*,
                                  racking_error**) = racking_read_json;
