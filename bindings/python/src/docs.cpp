// The docstrings of the compiled classes. Their examples are run as tests, with `reader`, a
// Reader, and `note`, the note of the README, at hand.
#include <cstdlib>
#include <cstring>
#include <string>
#include <utility>

#include "python.hpp"

namespace racking_python {
namespace {

constexpr std::pair<const char*, const char*> docs[] = {
    {"version", R"(version() -> str

The version of the library that runs.

>>> version().count(".")
2
)"},
    {"step_label", R"(step_label(dimension: Dimension | str, step: int) -> str

The house's word for a step, 1 to 5. Raises BadArgument or WrongType.

>>> step_label("tannin", 4)
'firm'
)"},
    {"wu_palmer", R"(wu_palmer(a, b, parents_of) -> float

Wu–Palmer similarity (Wu and Palmer 1994), 0 to 1, of two nodes in any hierarchy of hashable
nodes: ``parents_of(node)`` gives a node's parents. Raises BadArgument for a cycle. Cost: the
ancestors of both.

>>> above = {"cherry": ["fruit"], "plum": ["fruit"], "fruit": []}
>>> wu_palmer("cherry", "plum", above.get)
0.5
)"},
    {"units", R"doc(units(lexicon: Lexicon, kind: QuantityKind | str) -> tuple[Unit, ...]

The units of a quantity, its own first.

>>> [unit.name for unit in units(Lexicon.house(), "rim width")]
['mm', 'cm', 'in']
)doc"},
    {"convert", R"doc(convert(lexicon, kind, value, from_unit, to_unit) -> float | None

Between two units of one quantity; None if either is none of its units ("" is the quantity's own).
A pH is never an acidity, and the sugar of must none of a wine's. Raises BadArgument or WrongType.

>>> convert(Lexicon.house(), "temperature", 50, "°F", "°C")
10.0
>>> convert(Lexicon.house(), "pH", 3.2, "pH", "g/L") is None
True
)doc"},
    {"bands", R"doc(bands(lexicon: Lexicon, kind: QuantityKind | str) -> tuple[Band, ...]

The bands of a quantity, in the order of the data.

>>> bands(Lexicon.house(), "sugar")[2].terms
('brut', 'herb', 'bruto')
)doc"},
    {"sweetness_terms", R"doc(sweetness_terms(lexicon: Lexicon, sweetness: Sweetness) -> tuple[SweetnessTerm, ...]

The legal sweetness terms that fit, driest first, by Regulation (EU) 2019/33, Annex III, without
its tolerance. Several may. Empty for liqueur and semi-sparkling wines, which go by national law.
No legal advice. Raises BadArgument or WrongType.

>>> house = Lexicon.house()
>>> [term.band.name for term in sweetness_terms(house, Sweetness(17.0, "sparkling"))]
['extra dry', 'dry']
)doc"},
    {"check_sweetness_term", R"doc(check_sweetness_term(lexicon: Lexicon, sweetness: Sweetness, term: str) -> TermCheck

How a stated term, in any language of the data, goes with the sugar. What is not known is taken as
the term would have it. Raises BadArgument or WrongType.

>>> check_sweetness_term(Lexicon.house(), Sweetness(16.0, "sparkling"), "Brut").value
'contradicts'
)doc"},
    {"broken_limits", R"doc(broken_limits(lexicon, kind, value, colour=None, style=None) -> tuple[Band, ...]

The limits that a value, in the quantity's own unit, is outside of, all authorities together. Where
colour or style is None, limits that differ by it count only if the value breaks them all. No legal
advice. Raises BadArgument or WrongType.

>>> [band.id for band in broken_limits(Lexicon.house(), "volatile acidity", 1.3, "red")]
['eu.volatile-acidity.red']
)doc"},
    {"size_classes", R"doc(size_classes(lexicon: Lexicon, kind: QuantityKind | str, value: float) -> tuple[Band, ...]

The classes of size that a value, in the quantity's own unit, falls into. Raises BadArgument or
WrongType.

>>> [band.name for band in size_classes(Lexicon.house(), "pressure", 3.2)]
['sparkling']
)doc"},
    {"rescale_score", R"doc(rescale_score(score: float, mapping: Iterable[tuple[float, float]]) -> float

A score on another scale, by your own mapping: straight lines between its points. Racking has no
mapping of its own. Raises BadArgument for fewer than two points, points that do not rise, and a
score outside them.

>>> rescale_score(17, [(10, 60), (15, 85), (20, 100)])
91.0
)doc"},
    {"colour_indices", R"doc(colour_indices(a420, a520, a620, path_cm=1.0) -> ColourIndices

Density and shade of a red or rosé from three absorbances (OIV-MA-AS2-07B), reduced to 1 cm. They
never give CIELAB. Raises BadArgument or WrongType.

>>> colour_indices(0.25, 0.5, 0.25).density
1.0
)doc"},
    {"suggest", R"(suggest(notes, wanted, *, phrases=20000, contexts=3) -> list[Suggestion]

The ``wanted`` most frequent phrases of these notes that the lexicon doesn't know; None is passed
over. Raises WrongType or BadArgument. See `Suggestions`.

>>> [one] = suggest([reader.read("Plum, quibblewort.")] * 2, 5)
>>> one.phrase, one.occurrences, one.sure
('quibblewort', 2, False)
)"},
    {"Suggestions", R"(Suggestions(*, phrases: int = 20000, contexts: int = 3)

Gathers unknown phrases from notes, in bounded memory, and the company that they keep: the two
words on either side and the nearest aromas of the sentence. The known aromas of the notes teach
which company each family keeps; a phrase's likely family is the one whose company is most like its
own (positive pointwise mutual information, Bullinaria and Levy 2007, smoothed and summed). It is
sure where the phrase was seen three times, two hundred aromas taught it and the margin is eight
nats; of those a little under half are right.

Phrases are counted by Space-Saving (Metwally, Agrawal and El Abbadi 2005), ``phrases`` at a time.
Raises BadArgument if none may be held. Not to be changed by several threads at once.

>>> gathered = Suggestions()
>>> gathered.add(reader.read("Plum, quibblewort."), id="7")
>>> gathered.top(1)[0].contexts
(('7', 'Plum, quibblewort.'),)
)"},
    {"Suggestions.add", R"(add(note: Note, id: str = "") -> None

Takes up one note; ``id`` names it in contexts. Raises BadArgument if the note was read with another
lexicon than those before. Cost: linear in the note.

>>> Suggestions().add(note, id="row 7")
)"},
    {"Suggestions.top", R"(top(wanted: int) -> list[Suggestion]

The most frequent phrases.

>>> Suggestions().top(5)
[]
)"},
    {"Suggestions.to_toml", R"(to_toml(wanted: int) -> str

The same as a TOML file for an overlay, figures and contexts as comments. An entry whose evidence
is weak is a comment too, the family to be filled in.

>>> gathered = Suggestions()
>>> gathered.add(reader.read("Plum, quibblewort."))
>>> "# forms = [\"quibblewort\"]" in gathered.to_toml(5)
True
)"},
    {"Suggestions.is_exact", R"(bool: whether every phrase was held, so that counts are exact.

>>> Suggestions().is_exact
True
)"},
    {"Suggestions.note_count", R"(int: how many notes were taken up.

>>> Suggestions().note_count
0
)"},
    {"check_examples", R"(check_examples(folder: str | os.PathLike, reader: Reader) -> list[Problem]

Reads every example of a lexicon folder and returns what does not read as it is marked, each
located in its file; empty: all good. Raises LexiconUnreadable.

>>> import pathlib, tempfile
>>> with tempfile.TemporaryDirectory() as folder:
...     _ = pathlib.Path(folder, "mine.toml").write_text('''
... [[descriptor]]
... id = "zorbleberry"
... parents = ["hedgerow"]
... forms = ["zorbleberry"]
... examples = ["Smells of <a d=zorbleberry>zorbleberry</a>."]
... ''')
...     mine = Reader(Lexicon.house().overlaid(Overlay.load(folder)))
...     check_examples(folder, mine)
[]
)"},

    {"Lexicon", R"(An immutable, compiled lexicon: what words there are, and what they may mean.

Equal if the content is. Safe to use from many threads. Pickles by its content, some megabytes.

>>> Lexicon.house().name
'house'
)"},
    {"Lexicon.house", R"(house() -> Lexicon

The embedded house lexicon. No files, no network; about a millisecond.

>>> Lexicon.house() == Lexicon.house()
True
)"},
    {"Lexicon.load", R"(load(folder: str | os.PathLike) -> Lexicon

A whole lexicon from a folder of TOML files. Raises LexiconInvalid with every problem found, or
LexiconUnreadable.

>>> Lexicon.load("/nowhere")
Traceback (most recent call last):
racking.errors.LexiconUnreadable: ...
)"},
    {"Lexicon.from_blob", R"(from_blob(blob: bytes) -> Lexicon

From what ``to_blob`` gave. Raises LexiconCorrupt.

>>> house = Lexicon.house()
>>> Lexicon.from_blob(house.to_blob()) == house
True
)"},
    {"Lexicon.to_blob", R"(to_blob() -> bytes

All of it, for ``from_blob``. The same lexicon gives the same bytes.

>>> Lexicon.house().to_blob() == Lexicon.house().to_blob()
True
)"},
    {"Lexicon.overlaid", R"(overlaid(overlay: Overlay) -> Lexicon

This lexicon with the overlay's entries added; this one is unchanged. Raises LexiconInvalid with
every problem found.

>>> mine = Overlay.parse('[[descriptor]]\nid = "zorbleberry"\n'
...                      'parents = ["hedgerow"]\nforms = ["zorbleberry"]')
>>> Lexicon.house().overlaid(mine).find("zorbleberry")
<racking.Descriptor 'zorbleberry'>
)"},
    {"Lexicon.name", R"(str: its name.

>>> reader.lexicon.name
'house'
)"},
    {"Lexicon.version", R"(str: its version, a year and a month.

>>> reader.lexicon.version.startswith("20")
True
)"},
    {"Lexicon.digest", R"(str: 16 hexadecimal digits of the content; equal content, equal digest.

>>> len(reader.lexicon.digest)
16
)"},
    {"Lexicon.root", R"(Descriptor: the one above the families.

>>> reader.lexicon.root.family is None
True
)"},
    {"Lexicon.families", R"(tuple of Descriptor: the aroma families.

>>> len(reader.lexicon.families)
20
)"},
    {"Lexicon.descriptors", R"(tuple of Descriptor: all, families and root included, by index.

>>> len(reader.lexicon.descriptors) == reader.lexicon.descriptor_count
True
)"},
    {"Lexicon.descriptor_count", R"(int: how many descriptors there are.

>>> reader.lexicon.descriptor_count > 20
True
)"},
    {"Lexicon.phrase_count", R"(int: how many entries for structure there are, however many forms say
each.

>>> reader.lexicon.phrase_count > 0
True
)"},
    {"Lexicon.phrase_form_count", R"(int: how many ways there are of writing them.

>>> reader.lexicon.phrase_form_count > reader.lexicon.phrase_count
True
)"},
    {"Lexicon.descriptor_form_count", R"(int: how many ways there are of writing a descriptor, plurals and
adjectives made by rule included.

>>> reader.lexicon.descriptor_form_count > reader.lexicon.descriptor_count
True
)"},
    {"Lexicon.find", R"(find(id: str) -> Descriptor | None

The descriptor with this id.

>>> reader.lexicon.find("blackcurrant").label
'blackcurrant'
)"},
    {"Lexicon.find_form", R"(find_form(form: str) -> Descriptor | None

The descriptor that a form can mean.

>>> reader.lexicon.find_form("cassis").id
'blackcurrant'
)"},
    {"Lexicon.similarity", R"(similarity(a: Descriptor, b: Descriptor) -> float

Wu–Palmer similarity in this hierarchy, 0 to 1. Raises BadArgument for another lexicon's.

>>> find = reader.lexicon.find
>>> reader.lexicon.similarity(find("blackcurrant"), find("blackcurrant"))
1.0
)"},

    {"Overlay", R"(A user's own words: TOML in the house's format, to be laid on a lexicon.

One made by ``parse`` compares and pickles by its content; one of a folder by identity, and does
not pickle: pickle the lexicon it is laid on.

>>> Overlay.parse("", "mine.toml")
<racking.Overlay from 'mine.toml'>
)"},
    {"Overlay.load", R"(load(folder: str | os.PathLike) -> Overlay

Every ``.toml`` file below a folder. Raises LexiconInvalid with every problem of form, or
LexiconUnreadable.

>>> Overlay.load("/nowhere")
Traceback (most recent call last):
racking.errors.LexiconUnreadable: ...
)"},
    {"Overlay.parse", R"(parse(toml: str, source: str = "overlay") -> Overlay

The same from text; ``source`` names it in problems. Raises LexiconInvalid.

>>> Overlay.parse("x = [", "mine.toml")
Traceback (most recent call last):
racking.errors.LexiconInvalid: mine.toml:1:...
)"},

    {"Descriptor", R"(A node of the aroma hierarchy. Equal in equal lexicons; pickles small.

>>> reader.lexicon.find("raisin").family.id
'fruit-store'
)"},
    {"Descriptor.id", R"(str: lower case with hyphens; never changes.

>>> note.aromas[0].descriptor.id
'damp-cardboard'
)"},
    {"Descriptor.label", R"(str: its name, to be read.

>>> note.aromas[0].descriptor.label
'damp cardboard'
)"},
    {"Descriptor.gloss", R"(str: what it means; empty where the word is plain.

>>> isinstance(note.aromas[0].descriptor.gloss, str)
True
)"},
    {"Descriptor.family",
     R"(Descriptor or None: the family it lives in; itself for a family; None for the root.

>>> note.aromas[1].descriptor.family
<racking.Descriptor 'hedgerow'>
)"},
    {"Descriptor.is_family", R"(bool: whether it is a family.

>>> note.aromas[1].family.is_family
True
)"},
    {"Descriptor.path", R"(tuple of Descriptor: from the family down to itself, along first parents.

>>> [step.id for step in note.aromas[1].descriptor.path]
['hedgerow', 'currants', 'blackcurrant']
)"},
    {"Descriptor.parents", R"(tuple of Descriptor: the first is its home.

>>> [parent.id for parent in note.aromas[1].descriptor.parents][0]
'currants'
)"},
    {"Descriptor.children", R"(tuple of Descriptor: those that have it as a parent.

>>> note.aromas[1].descriptor in note.aromas[1].descriptor.parents[0].children
True
)"},
    {"Descriptor.origins", R"(tuple of Origin: where such a smell usually comes from.

>>> [origin.value for origin in note.aromas[1].descriptor.origins]
['grape']
)"},
    {"Descriptor.has_origin", R"(has_origin(origin: Origin | str) -> bool

Whether such a smell usually comes from there. Raises BadArgument, WrongType.

>>> note.aromas[1].descriptor.has_origin("grape")
True
)"},
    {"Descriptor.state", R"(tuple of State: the states the thing itself is in.

>>> [state.value for state in reader.lexicon.find("raisin").state]
['dried']
)"},
    {"Descriptor.compounds", R"(tuple of str: compounds that smell so, each with its source.

>>> isinstance(note.aromas[1].descriptor.compounds, tuple)
True
)"},
    {"Descriptor.depth", R"(int: the longest chain of parents to the root, which has 1.

>>> reader.lexicon.root.depth
1
)"},
    {"Descriptor.index", R"(int: its place among ``Lexicon.descriptors``.

>>> reader.lexicon.descriptors[note.aromas[0].descriptor.index].id
'damp-cardboard'
)"},
    {"Descriptor.lexicon", R"(Lexicon: the one it belongs to.

>>> note.aromas[0].descriptor.lexicon == reader.lexicon
True
)"},

    {"Note",
     R"(One note, read. An immutable value: equal if text and lexicon are; hashes, copies, pickles
(a note of the house lexicon pickles as its text, and is read again).

Fields are made when first asked for. Records of a field are named tuples. In a notebook a note
shows itself, marked in place.

>>> note
<racking.Note 'Brick at the rim. Damp cardboard, some cassis;…': 2 aromas; tannin firm to gripping; suspect>
>>> Note().text
''
)"},
    {"Note.text", R"(str: the text as it was given.

>>> note.text[note.aromas[1].span.slice]
'cassis'
)"},
    {"Note.language", R"(str: "en", "fr", "it", "es", "de" or "pt"; "und" if that cannot be told.

>>> note.language
'en'
)"},
    {"Note.lexicon", R"(Lexicon: the one it was read against.

>>> note.lexicon == reader.lexicon
True
)"},
    {"Note.coverage",
     R"(float: of the words that could say something, the share accounted for; 0 to 1.

>>> note.coverage
1.0
)"},
    {"Note.wine", R"(Wine: its colour and style.

>>> note.wine.colour.value
'red'
)"},
    {"Note.statements", R"(tuple of Statement: stretches of one frame and phase; they tile the text.

>>> [statement.phase.value for statement in note.statements]
['sight', 'overall']
)"},
    {"Note.aromas", R"(tuple of Aroma: of this wine, now or with air, in order.

>>> [aroma.descriptor.id for aroma in note.aromas]
['damp-cardboard', 'blackcurrant']
)"},
    {"Note.aside_aromas", R"(tuple of Aroma: those of other frames and times.

>>> note.aside_aromas
()
)"},
    {"Note.readings", R"(tuple of Reading: what is said of structure, expression included, in order.

>>> [reading.text for reading in note.readings]
['grippy', 'dries the gums']
)"},
    {"Note.aside_readings", R"(tuple of Reading: those of other frames and times.

>>> note.aside_readings
()
)"},
    {"Note.structure", R"(Structure: the seven scales and the expression of the nose.

>>> note.structure.tannin.range
Interval(low=4, high=5)
)"},
    {"Note.traits", R"(tuple of Trait: words for the whole or the texture.

>>> [trait.id for trait in reader.read("Elegant, and so well balanced.").traits]
['elegant', 'balanced']
)"},
    {"Note.aside_traits", R"(tuple of Trait: those of other frames and times.

>>> note.aside_traits
()
)"},
    {"Note.sight", R"(tuple of Sight: what was seen.

>>> note.sight[0].hue.value
'brick'
)"},
    {"Note.aside_sight", R"(tuple of Sight: those of other frames and times.

>>> note.aside_sight
()
)"},
    {"Note.quantities", R"(tuple of Quantity: numbers with their units.

>>> reader.read("13.5% vol").quantities[0].kind.value
'alcohol'
)"},
    {"Note.condition", R"(Condition: of the bottle, as far as the note speaks of it.

>>> note.condition.verdict.value
'suspect'
)"},
    {"Note.aside_faults", R"(tuple of FaultReading: of other wines, times and frames.

>>> note.aside_faults
()
)"},
    {"Note.maturity", R"(Maturity: the stage of life, with the evidence.

>>> note.maturity.stage[0].value
'mid-life'
)"},
    {"Note.names", R"(tuple of Name: grapes, places, methods, vessels, closures.

>>> note.names
()
)"},
    {"Note.remarks", R"(tuple of Remark: what a careful colleague would raise.

>>> note.remarks
()
)"},
    {"Note.unmapped", R"(tuple of Unmapped: words the lexicon does not know, as written.

>>> note.unmapped
()
)"},
    {"Note.problems", R"(tuple of TextProblem: something odd about the text.

>>> note.problems
()
)"},
    {"Note.label", R"(label(dimension: Dimension | str, range: Interval) -> str

The house's words for an interval. Raises BadArgument, WrongType.

>>> Note.label("tannin", (4, 5))
'firm to gripping'
)"},
    {"Note.to_json", R"(to_json(depth="full", offsets="codepoint", id=None, tidy=True, explain=False) -> str

The record, as the schema has it. ``depth``: "full" or "plain"; ``offsets``: the unit of spans,
"codepoint", "byte" or "utf16"; ``tidy``: full only, False leaves the cleaned note out;
``explain``: True gives each reading the reasons for it. Raises BadArgument, WrongType. Cost:
linear in the readings; to explain reads the text once more.

>>> import json
>>> json.loads(note.to_json(id="row 7"))["id"]
'row 7'
)"},
    {"Note.explain", R"(explain(reading) -> Explanation

Why a reading of this note was read so, in plain words: an Aroma, Reading, Trait, Sight, Quantity,
FaultReading, Name or Unmapped, asides too. Raises BadArgument for what is no reading of the note,
WrongType for anything else. Cost: one reading of the text; the first call for a reader takes some
milliseconds more.

>>> doubtful = reader.read("Perhaps tar.")
>>> print(doubtful.explain(doubtful.aromas[0]).reasons[1].because)
In doubt: ‘Perhaps’ leaves what follows in doubt.
)"},
    {"Note.tidy", R"(tidy() -> str

The cleaned note: short, readable, in the house's order and words.

>>> reader.read("plum; firm tannin").tidy()
'Aromas and flavours of plum. Firm tannins.'
)"},
    {"_Reader.lexicon", R"(Lexicon: the one it reads against.

>>> reader.lexicon.name
'house'
)"},
    {"_Reader.size_limit", R"(int: the largest note it takes, in bytes of UTF-8.

>>> reader.size_limit
16777216
)"},
    {"_Reader.tasting_year", R"(int or None: the year in which the notes were tasted.

With it, the age of a stated vintage is held against what the wine seems.

>>> Reader(tasting_year=2026).tasting_year
2026
)"},
    {"Batch", "The texts of many notes and what they say as columns; Notes wraps it."},
    {"Column", "One column of a Batch, as a read-only buffer."},
};

// pybind11 frees a function's text with `free` when the function goes.
void set_function_doc(PyObject* function, const char* text) {
  PyMethodDef* definition = reinterpret_cast<PyCFunctionObject*>(function)->m_ml;
  std::free(const_cast<char*>(definition->ml_doc));
  definition->ml_doc = strdup(text);
}

void document(const py::object& owner, const std::string& name, const char* text) {
  // Past the descriptor protocol: the function itself, not what it is bound to.
  py::object member = PyType_Check(owner.ptr()) ? py::object(owner.attr("__dict__")[name.c_str()])
                                                : py::object(owner.attr(name.c_str()));
  if (PyInstanceMethod_Check(member.ptr()))
    return set_function_doc(PyInstanceMethod_GET_FUNCTION(member.ptr()), text);
  if (Py_TYPE(member.ptr()) == &PyStaticMethod_Type) member = member.attr("__func__");
  if (PyCFunction_Check(member.ptr())) return set_function_doc(member.ptr(), text);
  member.attr("__doc__") = text;
}

}  // namespace

const char* read_doc() noexcept {
  return R"(read(text: str) -> Note

Reads one note. Never fails for what a note says. Raises WrongType, TextIllFormed (a lone
surrogate) or TextTooLarge, each with its ``position``. The GIL is given up for texts of 512
bytes or more: below that, giving it up costs more than another thread could gain; ``read_many``
gives it up for a whole batch. Cost: one pass, linear in the text.

>>> reader.read("Grippy.").structure.tannin.label
'firm to gripping'
)";
}

void write_docs(py::module_& module) {
  for (const auto& [path, text] : docs) {
    const std::string name(path);
    const std::size_t dot = name.find('.');
    if (dot == std::string::npos)
      document(module, name, text);
    else
      document(module.attr(name.substr(0, dot).c_str()), name.substr(dot + 1), text);
  }
}

}  // namespace racking_python
