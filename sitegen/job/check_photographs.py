"""What the photographs of a job say wrong: their files, and what they prove."""

from __future__ import annotations

from collections.abc import Iterator

from sitegen.errors import Fault
from sitegen.job.inputs import Gathered
from sitegen.job.registry import is_whole, nearest, needs

MOST_FIRST = 2
"""Photographs that may stand on the first sheet."""


@needs("job.photographs")
def _photographs_are_there(all_: Gathered) -> Iterator[Fault]:
    for i, photograph in all_.job.items("photographs"):
        path = all_.folder / photograph.file
        if not path.is_file() or not path.resolve().is_relative_to(all_.folder.resolve()):
            yield all_.job.fault(("photographs", i, "file"),
                                 f"There is no file `{photograph.file}` in the job's folder.",
                                 "Copy it there, or mend its name.")


@needs("job.photographs", "job.findings")
def _photographs_prove_a_finding(all_: Gathered) -> Iterator[Fault]:
    numbers = {finding.number for _, finding in all_.job.items("findings")}
    for i, photograph in all_.job.items("photographs"):
        if photograph.finding is not None and photograph.finding not in numbers and is_whole(all_.job, "findings"):
            yield all_.job.fault(("photographs", i, "finding"), f"No finding has the number {photograph.finding}.",
                                 f"Known: {', '.join(map(str, sorted(numbers))) or 'none'}.")


@needs("job.photographs", "job.rooms")
def _photographs_show_a_room(all_: Gathered) -> Iterator[Fault]:
    names = {room.room for _, room in all_.job.items("rooms")}
    for i, photograph in all_.job.items("photographs"):
        if photograph.room is not None and photograph.room not in names and is_whole(all_.job, "rooms"):
            yield all_.job.fault(("photographs", i, "room"), f"No room is called `{photograph.room}`.",
                                 nearest(photograph.room, names))


@needs("job.photographs")
def _two_photographs_on_the_first_sheet(all_: Gathered) -> Iterator[Fault]:
    first = [i for i, photograph in all_.job.items("photographs") if photograph.first]
    for i in first[MOST_FIRST:]:
        yield all_.job.fault(("photographs", i, "first"), "A third photograph would stand on the first sheet.",
                             "Leave `first` out of all but two.")
