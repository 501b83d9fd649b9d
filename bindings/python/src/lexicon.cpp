// Lexicon, Overlay, Descriptor.
#include <pybind11/stl.h>

#include "errors.hpp"
#include "python.hpp"
#include "text.hpp"
#include "types.hpp"

namespace racking_python {
namespace {

using racking::Descriptor;
using racking::Lexicon;

LexiconPointer boxed(Lexicon lexicon) {
  return std::make_shared<LexiconBox>(LexiconBox{std::move(lexicon)});
}

py::tuple descriptor_tuple(const LexiconPointer& lexicon, const std::vector<Descriptor>& all) {
  py::tuple out(all.size());
  for (std::size_t at = 0; at < all.size(); ++at) out[at] = descriptor_object(lexicon, all[at]);
  return out;
}

bool same(const LexiconBox& a, const LexiconBox& b) noexcept {
  return a.lexicon.compiled() == b.lexicon.compiled() || a.lexicon.digest() == b.lexicon.digest();
}

const LexiconBox* lexicon_in(py::handle other) {
  return py::isinstance<LexiconBox>(other) ? &other.cast<const LexiconBox&>() : nullptr;
}

py::object equal(bool known, bool equal) {
  return known ? py::object(py::bool_(equal))
               : py::reinterpret_borrow<py::object>(Py_NotImplemented);
}

const DescriptorBox& descriptor_of(py::handle value, const char* what) {
  if (!py::isinstance<DescriptorBox>(value))
    raise_wrong_type(std::string(what) + " must be a Descriptor, not " +
                     Py_TYPE(value.ptr())->tp_name);
  return value.cast<const DescriptorBox&>();
}

py::tuple states_of(racking::State set) {
  py::list out;
  for (std::size_t bit = 0; bit < racking::state_count; ++bit)
    if (has(set, static_cast<racking::State>(1U << bit))) out.append(types().states[bit]);
  return py::tuple(out);
}

py::tuple origins_of(Descriptor descriptor) {
  py::list out;
  for (std::size_t bit = 0; bit < 4; ++bit)
    if (descriptor.has_origin(static_cast<racking::Origin>(1U << bit)))
      out.append(types().origins[bit]);
  return py::tuple(out);
}

void bind_lexicon_type(py::module_& module) {
  py::class_<LexiconBox, LexiconPointer>(module, "Lexicon")
      .def_static("house", [] { return boxed(Lexicon::house()); })
      .def_static(
          "load",
          [](py::handle folder) {
            const std::string path = path_of(folder, "folder");
            const py::gil_scoped_release release;
            return boxed(Lexicon::load(path));
          },
          py::arg("folder"))
      .def_static(
          "from_blob",
          [](py::handle blob) {
            if (!PyBytes_Check(blob.ptr()))
              raise_wrong_type(std::string("blob must be bytes, not ") +
                               Py_TYPE(blob.ptr())->tp_name);
            const auto bytes = blob.cast<std::string_view>();
            const py::gil_scoped_release release;
            return boxed(Lexicon::from_blob(bytes));
          },
          py::arg("blob"))
      .def("to_blob", [](const LexiconBox& self) { return py::bytes(self.lexicon.to_blob()); })
      .def(
          "overlaid",
          [](const LexiconBox& self, py::handle overlay) {
            if (!py::isinstance<OverlayBox>(overlay))
              raise_wrong_type(std::string("overlay must be an Overlay, not ") +
                               Py_TYPE(overlay.ptr())->tp_name);
            const auto& box = overlay.cast<const OverlayBox&>();
            const py::gil_scoped_release release;
            return boxed(self.lexicon.overlaid(box.overlay));
          },
          py::arg("overlay"))
      .def_property_readonly("name",
                             [](const LexiconBox& self) { return to_python(self.lexicon.name()); })
      .def_property_readonly(
          "version", [](const LexiconBox& self) { return to_python(self.lexicon.version()); })
      .def_property_readonly(
          "digest", [](const LexiconBox& self) { return to_python(self.lexicon.digest()); })
      .def_property_readonly(
          "root",
          [](const LexiconPointer& self) { return descriptor_object(self, self->lexicon.root()); })
      .def_property_readonly("families",
                             [](const LexiconPointer& self) {
                               return descriptor_tuple(self, self->lexicon.families());
                             })
      .def_property_readonly("descriptor_count",
                             [](const LexiconBox& self) { return self.lexicon.descriptor_count(); })
      .def_property_readonly("phrase_count",
                             [](const LexiconBox& self) { return self.lexicon.phrase_count(); })
      .def_property_readonly(
          "phrase_form_count",
          [](const LexiconBox& self) { return self.lexicon.phrase_form_count(); })
      .def_property_readonly(
          "descriptor_form_count",
          [](const LexiconBox& self) { return self.lexicon.descriptor_form_count(); })
      .def_property_readonly("descriptors",
                             [](const LexiconPointer& self) {
                               py::tuple out(self->lexicon.descriptor_count());
                               for (std::size_t at = 0; at < out.size(); ++at)
                                 out[at] = descriptor_object(self, self->lexicon.descriptor_at(at));
                               return out;
                             })
      .def(
          "find",
          [](const LexiconPointer& self, py::handle id) -> py::object {
            const auto found = self->lexicon.find(utf8_of(id, "id"));
            return found ? descriptor_object(self, *found) : py::object(py::none());
          },
          py::arg("id"))
      .def(
          "find_form",
          [](const LexiconPointer& self, py::handle form) -> py::object {
            const auto found = self->lexicon.find_form(utf8_of(form, "form"));
            return found ? descriptor_object(self, *found) : py::object(py::none());
          },
          py::arg("form"))
      .def(
          "similarity",
          [](const LexiconBox& self, py::handle a, py::handle b) {
            const DescriptorBox& first = descriptor_of(a, "a");
            const DescriptorBox& second = descriptor_of(b, "b");
            if (!same(self, *first.lexicon) || !same(self, *second.lexicon))
              raise_bad_argument("both descriptors must be of this lexicon");
            // Equal content has equal indices; the handles are made of this lexicon's own.
            return self.lexicon.similarity(self.lexicon.descriptor_at(first.descriptor.index()),
                                           self.lexicon.descriptor_at(second.descriptor.index()));
          },
          py::arg("a"), py::arg("b"))
      .def("__eq__",
           [](const LexiconBox& self, py::handle other) {
             const LexiconBox* box = lexicon_in(other);
             return equal(box != nullptr, box != nullptr && same(self, *box));
           })
      .def("__hash__",
           [](const LexiconBox& self) { return py::hash(to_python(self.lexicon.digest())); })
      .def("__repr__",
           [](const LexiconBox& self) {
             return to_python("<racking.Lexicon '" + std::string(self.lexicon.name()) + "' " +
                              std::string(self.lexicon.version()) + ": " +
                              std::to_string(self.lexicon.descriptor_count()) + " descriptors>");
           })
      .def("__copy__", [](py::object self) { return self; })
      .def(
          "__deepcopy__", [](py::object self, py::handle) { return self; }, py::arg("memo"))
      .def("__reduce__", [](py::object self) {
        return py::module_::import("racking._pickles").attr("reduce_lexicon")(self);
      });
}

void bind_overlay_type(py::module_& module) {
  py::class_<OverlayBox, std::shared_ptr<OverlayBox>>(module, "Overlay")
      .def_static(
          "load",
          [](py::handle folder) {
            const std::string path = path_of(folder, "folder");
            const py::gil_scoped_release release;
            return std::make_shared<OverlayBox>(OverlayBox{racking::Overlay::load(path), path, {}});
          },
          py::arg("folder"))
      .def_static(
          "parse",
          [](py::handle toml, py::handle source) {
            std::string text = utf8_of(toml, "toml");
            std::string name = utf8_of(source, "source");
            return std::make_shared<OverlayBox>(
                OverlayBox{racking::Overlay::parse(text, name), name, std::move(text)});
          },
          py::arg("toml"), py::arg("source") = "overlay")
      .def("__eq__",
           [](const OverlayBox& self, py::handle other) {
             if (!py::isinstance<OverlayBox>(other)) return equal(false, false);
             const auto& box = other.cast<const OverlayBox&>();
             return equal(true,
                          &self == &box || (self.toml && box.toml && *self.toml == *box.toml &&
                                            self.origin == box.origin));
           })
      .def("__hash__", [](const OverlayBox& self) { return py::hash(to_python(self.origin)); })
      .def("__repr__",
           [](const OverlayBox& self) {
             return to_python("<racking.Overlay from '" + self.origin + "'>");
           })
      .def("__copy__", [](py::object self) { return self; })
      .def(
          "__deepcopy__", [](py::object self, py::handle) { return self; }, py::arg("memo"))
      .def("__reduce__", [](py::object self) {
        const auto& box = self.cast<const OverlayBox&>();
        if (!box.toml)
          raise_wrong_type(
              "an Overlay of a folder is not pickled: pickle the lexicon it is laid on");
        return py::make_tuple(py::module_::import("racking._pickles").attr("overlay_of"),
                              py::make_tuple(to_python(*box.toml), to_python(box.origin)));
      });
}

void bind_descriptor_type(py::module_& module) {
  py::class_<DescriptorBox>(module, "Descriptor")
      .def_property_readonly(
          "id", [](const DescriptorBox& self) { return to_python(self.descriptor.id()); })
      .def_property_readonly(
          "label", [](const DescriptorBox& self) { return to_python(self.descriptor.label()); })
      .def_property_readonly(
          "gloss", [](const DescriptorBox& self) { return to_python(self.descriptor.gloss()); })
      .def_property_readonly("family",
                             [](const DescriptorBox& self) -> py::object {
                               const Descriptor family = self.descriptor.family();
                               return family ? descriptor_object(self.lexicon, family)
                                             : py::object(py::none());
                             })
      .def_property_readonly("is_family",
                             [](const DescriptorBox& self) { return self.descriptor.is_family(); })
      .def_property_readonly("path",
                             [](const DescriptorBox& self) {
                               return descriptor_tuple(self.lexicon, self.descriptor.path());
                             })
      .def_property_readonly("parents",
                             [](const DescriptorBox& self) {
                               return descriptor_tuple(self.lexicon, self.descriptor.parents());
                             })
      .def_property_readonly("children",
                             [](const DescriptorBox& self) {
                               return descriptor_tuple(self.lexicon, self.descriptor.children());
                             })
      .def_property_readonly("origins",
                             [](const DescriptorBox& self) { return origins_of(self.descriptor); })
      .def(
          "has_origin",
          [](const DescriptorBox& self, py::handle origin) {
            return self.descriptor.has_origin(enum_of<racking::Origin>(origin, "origin"));
          },
          py::arg("origin"))
      .def_property_readonly(
          "state", [](const DescriptorBox& self) { return states_of(self.descriptor.state()); })
      .def_property_readonly("compounds",
                             [](const DescriptorBox& self) {
                               const auto compounds = self.descriptor.compounds();
                               py::tuple out(compounds.size());
                               for (std::size_t at = 0; at < compounds.size(); ++at)
                                 out[at] = to_python(compounds[at]);
                               return out;
                             })
      .def_property_readonly("depth",
                             [](const DescriptorBox& self) { return self.descriptor.depth(); })
      .def_property_readonly("index",
                             [](const DescriptorBox& self) { return self.descriptor.index(); })
      .def_property_readonly("lexicon", [](const DescriptorBox& self) { return self.lexicon; })
      .def("__eq__",
           [](const DescriptorBox& self, py::handle other) {
             if (!py::isinstance<DescriptorBox>(other)) return equal(false, false);
             const auto& box = other.cast<const DescriptorBox&>();
             return equal(true, self.descriptor.index() == box.descriptor.index() &&
                                    same(*self.lexicon, *box.lexicon));
           })
      .def("__hash__",
           [](const DescriptorBox& self) { return py::hash(to_python(self.descriptor.id())); })
      .def("__str__", [](const DescriptorBox& self) { return to_python(self.descriptor.label()); })
      .def("__repr__",
           [](const DescriptorBox& self) {
             return to_python("<racking.Descriptor '" + std::string(self.descriptor.id()) + "'>");
           })
      .def("__copy__", [](py::object self) { return self; })
      .def(
          "__deepcopy__", [](py::object self, py::handle) { return self; }, py::arg("memo"))
      .def("__reduce__", [](py::object self) {
        return py::module_::import("racking._pickles").attr("reduce_descriptor")(self);
      });
}

}  // namespace

py::object descriptor_object(const LexiconPointer& lexicon, racking::Descriptor descriptor) {
  return py::cast(DescriptorBox{lexicon, descriptor});
}

void bind_lexicon(py::module_& module) {
  bind_lexicon_type(module);
  bind_overlay_type(module);
  bind_descriptor_type(module);
}

}  // namespace racking_python
