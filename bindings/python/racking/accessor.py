"""``series.racking.read()``: the accessor of pandas, registered when pandas is there.

Neither package waits for the other: where pandas is loaded later, a finder that stands in for
its import once registers the accessor then.
"""
from __future__ import annotations

import importlib.abc
import importlib.util
import sys
from types import ModuleType
from typing import TYPE_CHECKING, Any, Optional, Sequence

from .reader import Progress, Reader

if TYPE_CHECKING:
    from importlib.machinery import ModuleSpec

    from .notes import Notes


class SeriesAccessor:
    """What ``series.racking`` is.

    >>> import pandas
    >>> series = pandas.Series({"bin 7": "Plum, firm tannin.", "bin 9": None})
    >>> series.racking.read().table()["tannin_low"].to_dict()
    {'bin 7': 4, 'bin 9': <NA>}
    """

    def __init__(self, series: Any) -> None:
        self._series = series

    def read(self, reader: Optional[Reader] = None, jobs: Optional[int] = None,
             progress: Progress = False) -> Notes:
        """The notes of the series, with its index; see ``Reader.read_many``. ``reader``: None
        for one with the house lexicon.

        >>> import pandas
        >>> pandas.Series(["Plum."]).racking.read()
        <racking.Notes: 1 note>
        """
        return (Reader() if reader is None else reader).read_many(self._series, jobs, progress)


def register() -> None:
    import pandas

    if not hasattr(pandas.Series, "racking"):
        pandas.api.extensions.register_series_accessor("racking")(SeriesAccessor)


class _AfterPandas(importlib.abc.MetaPathFinder, importlib.abc.Loader):
    """Loads pandas as it would be loaded, then registers."""

    def __init__(self) -> None:
        self._spec: Optional[ModuleSpec] = None

    def find_spec(self, name: str, path: Optional[Sequence[str]],
                  target: Optional[ModuleType] = None) -> Optional[ModuleSpec]:
        if name != "pandas":
            return None
        sys.meta_path.remove(self)
        self._spec = importlib.util.find_spec(name)
        if self._spec is None or self._spec.loader is None:
            return self._spec
        found = importlib.util.spec_from_loader(name, self, origin=self._spec.origin)
        if found is not None:
            found.submodule_search_locations = self._spec.submodule_search_locations
            found.has_location = self._spec.has_location
            found.cached = self._spec.cached
        return found

    def create_module(self, spec: ModuleSpec) -> Optional[ModuleType]:
        assert self._spec is not None and self._spec.loader is not None
        return self._spec.loader.create_module(self._spec)

    def exec_module(self, module: ModuleType) -> None:
        assert self._spec is not None and self._spec.loader is not None
        module.__loader__ = self._spec.loader
        module.__spec__ = self._spec
        self._spec.loader.exec_module(module)
        register()


def watch() -> None:
    """Registers now, or when pandas is imported."""
    if "pandas" in sys.modules:
        register()
    elif not any(isinstance(finder, _AfterPandas) for finder in sys.meta_path):
        sys.meta_path.insert(0, _AfterPandas())
