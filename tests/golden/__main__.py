"""Accept what the demo houses say now:  python -m tests.golden

Writes the text of every page and figure over the files of this folder; read the diff before it is committed.
"""

from __future__ import annotations

import shutil
from pathlib import Path
from tempfile import TemporaryDirectory

from tests.built import HOUSES, build_house
from tests.golden.test_golden import FOLDER, texts


def main() -> None:
    """Write every file anew, and take away those of pages that are gone."""
    with TemporaryDirectory() as folder:
        for job in HOUSES:
            shutil.rmtree(FOLDER / job, ignore_errors=True)
            (FOLDER / job).mkdir()
            for name, text in texts(build_house(job, Path(folder))).items():
                (FOLDER / job / name).write_text(text, "utf-8")


if __name__ == "__main__":
    main()
