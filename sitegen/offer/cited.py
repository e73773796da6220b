"""Who stands behind what a job's files say: a Source for any line of them."""

from __future__ import annotations

from msgspec import Struct

from sitegen.figure import Source
from sitegen.job.document import Path_
from sitegen.job.inputs import Inputs


class Sources(Struct, frozen=True):
    """The source of anything that a line of the files says."""

    inputs: Inputs

    def survey(self, *path: str | int) -> Source:
        """A line of the job file."""
        job = self.inputs.job
        return Source("survey", f"{job.surveyed_by}, {job.surveyed.isoformat()}; {self._line('job', path)}")

    def book(self, *path: str | int) -> Source:
        """A line of the price book."""
        book = self.inputs.book
        return Source("price book", f"edition {book.edition}, {book.by}, {book.quoted.isoformat()}; "
                      f"{self._line('book', path)}")

    def company(self, *path: str | int) -> Source:
        """A line of the company's card."""
        return Source("company", self._line("company", path))

    def town(self, *path: str | int) -> Source:
        """A line of the town card."""
        return Source("town card", self._line("town", path))

    def judgement(self) -> Source:
        """The firm's judgement of what is hidden: whose, and when."""
        prior = self.inputs.company.prior
        return Source("judgement", f"{prior.by}, {prior.on.isoformat()}, not a count; "
                      f"{self._line('company', ('prior',))}")

    def _line(self, name: str, path: Path_) -> str:
        document = self.inputs.documents[name]
        return f"{document.file.rsplit('/', 1)[-1]} line {document.line(path)}"
