"""Everything public is documented, and every example in a docstring is run."""
import doctest
import inspect
import unittest

from _load import README
import racking
from racking import _racking, accessor, plots

import matplotlib
matplotlib.use("Agg")


def documented():
    """(name, docstring) of the public names and of their public members."""
    yield "racking", racking.__doc__
    for module in (racking.records, racking.measures, racking.vocabulary, racking.errors):
        yield module.__name__, module.__doc__
    names = [(name, getattr(racking, name)) for name in racking.__all__]
    names += [(f"plots.{name}", getattr(plots, name)) for name in plots.__all__]
    names += [("SeriesAccessor", accessor.SeriesAccessor), ("_Reader", _racking._Reader)]
    for name, value in names:
        if name != "_Reader":
            yield name, value.__doc__
        if not inspect.isclass(value) or issubclass(value, racking.vocabulary.enum.Enum):
            continue
        fields = getattr(value, "_fields", ())
        for member in vars(value):
            if member.startswith("_") or member in fields or member in ("code",):
                continue
            yield f"{name}.{member}", getattr(value, member).__doc__


class Docs(unittest.TestCase):
    def test_everything_is_documented(self):
        without = [name for name, text in documented() if not (text or "").strip()]
        self.assertEqual(without, [])

    def test_examples_are_there(self):
        """Each callable and attribute has one, but for the classes of errors and closed lists."""
        without = [name for name, text in documented() if ">>>" not in text]
        allowed = {name for name in racking.__all__
                   if inspect.isclass(getattr(racking, name))
                   and issubclass(getattr(racking, name), (racking.Error, racking.vocabulary.enum.Enum))}
        self.assertEqual(set(without) - allowed - {"racking.errors"}, set())

    def test_examples_do_what_they_say(self):
        parser = doctest.DocTestParser()
        options = doctest.ELLIPSIS | doctest.IGNORE_EXCEPTION_DETAIL
        ran = 0
        failures = []
        for name, text in documented():
            names = {one: getattr(racking, one) for one in racking.__all__}
            reader = racking.Reader()
            names.update(reader=reader, note=reader.read(README),
                         notes=reader.read_many(["Plum.", None, "Lemon."]))
            test = parser.get_doctest(text, names, name, None, None)
            report = []
            result = doctest.DocTestRunner(optionflags=options).run(test, out=report.append)
            if result.failed:
                failures += report
            ran += result.attempted
        self.assertEqual(failures, [], "".join(failures))
        self.assertGreater(ran, 120)


if __name__ == "__main__":
    unittest.main()
