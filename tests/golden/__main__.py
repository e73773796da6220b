"""Accept what the demo houses, the made jobs and the pieces of words say now:  python -m tests.golden

Writes the text of every page, figure and piece over the files of this folder; read the diff before it is committed.
"""

from __future__ import annotations

import shutil
from collections.abc import Mapping
from pathlib import Path
from tempfile import TemporaryDirectory

from tests.built import HOUSES, build_house
from tests.golden import made
from tests.golden.pieces import FILE, our_words, words_text
from tests.golden.test_golden import FOLDER, texts


def main() -> None:
    """Write every file anew, and take away those of pages and jobs that are gone."""
    with TemporaryDirectory() as folder:
        for job in HOUSES:
            _write(FOLDER / job, texts(build_house(job, Path(folder))))
        _write(made.FOLDER, {f"{case.name}.txt": made.new_text(made.pages_of(case, Path(folder)))
                             for case in made.cases()})
    (FOLDER / FILE).write_text(words_text(our_words()), "utf-8")


def _write(folder: Path, files: Mapping[str, str]) -> None:
    shutil.rmtree(folder, ignore_errors=True)
    folder.mkdir()
    for name, text in files.items():
        (folder / name).write_text(text, "utf-8")


if __name__ == "__main__":
    main()
