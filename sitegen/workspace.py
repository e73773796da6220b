"""A company's own folder: where its cards and jobs are, and where what is built goes.

A workspace holds `company.yaml`, `price-book.yaml`, `cost-book.yaml`, `finished.yaml` once there are finished jobs,
`towns/`, `states/` and one folder a job with a `job.yaml` in it. It is found upward from where the command runs, or
given by `--home`. In a clone the demo workspace `proposals/` is the default, and what it builds goes to the top level
of the clone, which git ignores.
"""

from __future__ import annotations

from pathlib import Path

from msgspec import Struct

from sitegen.errors import BuildError, NoWorkspace

CARD = "company.yaml"
PRIVATE = ".sitegen"
"""A folder of the workspace that commands keep things in for themselves; git is told to pass it by."""

PACKAGE = Path(__file__).resolve().parent


class Workspace(Struct, frozen=True):
    """A company's folder, and the folder that built sites go to."""

    home: Path
    output: Path

    @property
    def public(self) -> Path:
        """The folder that a host's own tool picks up: a folder a publication, and nothing else."""
        return self.output.parent / "public"

    @property
    def archive(self) -> Path:
        """The folder of signed records, which nothing builds and nothing publishes."""
        return self.output.parent / "archive"

    def job(self, given: str) -> Path:
        """The folder of a job, by its name or by a path to it; raises NoWorkspace when there is none."""
        for folder in (self.home / given, Path(given)):
            if (folder / "job.yaml").exists() and folder.resolve().parent == self.home.resolve():
                return folder.resolve()
        known = ", ".join(folder.name for folder in self.jobs()) or "none"
        raise NoWorkspace(f"There is no job `{given}` in {shown(self.home)}. Jobs there: {known}.")

    def lock(self, folder: Path) -> Path:
        """The file that whoever writes the site of a job holds; raises BuildError where it cannot be made."""
        try:
            return private(self.home) / f"{folder.name}.lock"
        except OSError as error:
            raise BuildError(f"{shown(self.home)} cannot be written: {error.strerror}.") from None

    def sources(self, folder: Path) -> list[Path]:
        """The files and folders that the site of a job can be made of, as far as they are there; none is built."""
        named = [self.home / name for name in (CARD, "price-book.yaml", "cost-book.yaml", "towns", "states", "content",
                                               "theme")]
        return [path for path in (*named, folder) if path.exists()]

    def jobs(self) -> list[Path]:
        """Every job folder, by name."""
        return sorted(path.parent.resolve() for path in self.home.glob("*/job.yaml"))


def private(home: Path) -> Path:
    """The folder that commands keep things in, for the user alone; made where it is not there, raises OSError."""
    folder = home / PRIVATE
    folder.mkdir(mode=0o700, exist_ok=True)
    if not (folder / ".gitignore").exists():
        (folder / ".gitignore").write_text("*\n", "utf-8")
    return folder


def find(home: str | None) -> Workspace:
    """The workspace given, else the nearest one upward, else the demo of a clone; raises NoWorkspace."""
    if home is not None:
        folder = Path(home).expanduser()
        if not (folder / CARD).is_file():
            raise NoWorkspace(f"{shown(folder)} is no workspace: it has no {CARD}. {_way_out(folder)}")
        return _at(folder.resolve())
    here = Path.cwd().resolve()
    for folder in (here, *here.parents):
        if (folder / CARD).is_file():
            return _at(folder)
        if is_clone(folder):
            return _at(folder / "proposals")
    raise NoWorkspace(f"No {CARD} here or in any folder above. Change into a workspace, or name one with --home.")


def nowhere(home: str | None) -> Path | None:
    """The folder that a first job starts a workspace in: this or the given one, if none is there or upward.

    A folder that is named need not be there yet.
    """
    here = Path(home if home is not None else ".").expanduser().resolve()
    return here if (here.is_dir() or not here.exists()) and _around(here) is None else None


def _around(here: Path) -> Path | None:
    """The workspace or clone that a folder is or lies in."""
    return next((folder for folder in (here, *here.parents) if (folder / CARD).exists() or is_clone(folder)), None)


def _way_out(folder: Path) -> str:
    """What to do about a folder that was named as a workspace and is none."""
    if folder.exists() and not folder.is_dir():
        return "It is a file: name a folder."
    around = _around(folder.resolve())
    if around is None:
        return f"`sitegen new JOB --home {shown(folder)}` starts one there."
    if is_clone(around):
        return "It lies in a clone of sitegen: name a folder outside, where git carries no real house away."
    return f"It lies in the workspace {shown(around)}: name that one."


def is_clone(folder: Path) -> bool:
    """Whether a folder is the top of a clone of this project, known by its shape."""
    return (folder / "proposals" / CARD).is_file() and (folder / "sitegen").is_dir()


def _at(home: Path) -> Workspace:
    clone = home.parent if home == PACKAGE.parent / "proposals" else home
    return Workspace(home, clone / "site")


def shown(path: Path) -> str:
    """A path as a person would type it from here."""
    try:
        return str(path.resolve().relative_to(Path.cwd().resolve())) or "."
    except ValueError:
        return str(path)


def resource(name: str) -> Path:
    """`content` or `theme`: inside the package when installed from a wheel, beside it in a clone."""
    inside = PACKAGE / name
    return inside if inside.is_dir() else PACKAGE.parent / name
