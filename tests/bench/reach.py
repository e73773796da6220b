"""Which tests a module reaches, by what files import: read from their text, nothing is run."""

from __future__ import annotations

import ast
from collections.abc import Iterable, Iterator
from functools import cache
from pathlib import Path

PAGES = "tests/sheets/"
"""Tests of pages, which nearly every module reaches: only those run that import it themselves, and late."""


class Reach:
    """The imports of a tree between its own files."""

    def __init__(self, top: Path, tests: Iterable[str]) -> None:
        self.top, self.tests = top, tuple(tests)
        self.imports = cache(self._imports)
        self._all = {test: self._closure(test) for test in self.tests}

    def stages(self, path: str) -> tuple[list[str], list[str]]:
        """Tests that mirror a module by name or import it, then the others that it reaches at some removes."""
        here = [test for test in self.tests if path in self._all[test]]
        direct = {test for test in here if self._mirrors(test, path) or path in self.imports(test)}
        here = [test for test in here if test in direct or not test.startswith(PAGES)]
        late = () if path.startswith("sitegen/sheets/") else (PAGES,)
        near = [test for test in here if test in direct and not test.startswith(late)]
        return near, [test for test in here if test not in near]

    @staticmethod
    def _mirrors(test: str, path: str) -> bool:
        stem = Path(test).stem.removeprefix("test_").removeprefix("published_")
        module = Path(path)
        return stem in (module.stem, module.parent.name)

    def _closure(self, test: str) -> frozenset[str]:
        found, left = set[str](), [test]
        while left:
            new = self.imports(left.pop()) - found
            found |= new
            left += new
        return frozenset(found)

    def _imports(self, path: str) -> frozenset[str]:
        tree = ast.parse((self.top / path).read_text("utf-8"))
        return frozenset(file for name in _names(tree) if (file := self._file(name)) is not None)

    def _file(self, name: str) -> str | None:
        base = self.top.joinpath(*name.split("."))
        found = next((file for file in (base.with_suffix(".py"), base / "__init__.py") if file.is_file()), None)
        return None if found is None else found.relative_to(self.top).as_posix()


def _names(tree: ast.Module) -> Iterator[str]:
    """Every module that a file may import; of `from a import b` both `a` and `a.b`."""
    for node in ast.walk(tree):
        if isinstance(node, ast.Import):
            yield from (name.name for name in node.names)
        elif isinstance(node, ast.ImportFrom) and node.module and not node.level:
            yield node.module
            yield from (f"{node.module}.{name.name}" for name in node.names)


__all__ = ["Reach"]
