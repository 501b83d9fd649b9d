// The compiled module `racking._racking`. `racking` says what of it is public.
#include "python.hpp"

PYBIND11_MODULE(_racking, module) {
  namespace py = pybind11;
  py::options options;
  options.disable_function_signatures();  // docstrings begin with their own
  racking_python::bind_errors(module);
  racking_python::bind_vocabulary(module);
  racking_python::bind_lexicon(module);
  racking_python::bind_measures(module);
  racking_python::bind_note(module);
  racking_python::bind_reader(module);
  racking_python::bind_batch(module);
  racking_python::bind_suggestions(module);
  racking_python::write_docs(module);
}
