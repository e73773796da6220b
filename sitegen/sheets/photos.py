"""Photographs of a job as a sheet shows them: smaller, turned upright, in two formats, with nothing else in the file.

A camera writes the place, the time and its own number into a picture.  None of it is kept: the points alone are
copied to a new picture.  Pillow is imported when a job has a photograph and it was not made before.
"""

from __future__ import annotations

import base64
import hashlib
import io
import json
import warnings
from collections.abc import Mapping
from contextlib import suppress
from importlib.metadata import version
from pathlib import Path
from typing import TYPE_CHECKING

from msgspec import Struct

from sitegen.errors import BuildError
from sitegen.figure import Quote
from sitegen.offer.offer import Offer, Photograph
from sitegen.sheets.cache import Cache

if TYPE_CHECKING:
    from PIL.Image import Image

LARGEST = 1200
"""Pixels of the longer side: three to a point of the widest place on a phone."""

READ = ("JPEG", "PNG", "WEBP")
SAVED = {"webp": {"format": "WEBP", "quality": 78, "method": 4},
         "jpg": {"format": "JPEG", "quality": 80, "optimize": True, "progressive": True, "subsampling": 2}}
"""How each format is written; what a browser takes first stands first."""


class Photo(Struct, frozen=True):
    """One photograph: what it shows and proves, its size in pixels, and its bytes by name of file, the modern format
    first.  `finding` is a number of the report, `room` a name; `first` whether it stands on the first sheet."""

    of: Quote
    finding: int | None
    room: str | None
    first: bool
    width: int
    height: int
    files: Mapping[str, bytes]

    @property
    def elsewhere(self) -> bool:
        """Whether it belongs to no finding and to no room."""
        return self.finding is None and self.room is None

    @property
    def names(self) -> tuple[str, ...]:
        """The names of its files."""
        return tuple(self.files)


def photographs(offer: Offer, folder: Path, cache: Cache) -> tuple[Photo, ...]:
    """The photographs of a job in its order; `folder` is the job's own.  Raises BuildError for one that is none."""
    return tuple(_shown(one, f"photo-{at}", folder / one.file, cache)
                 for at, one in enumerate(offer.photographs, 1))


def faces(offer: Offer, folder: Path, cache: Cache) -> dict[str, Photo]:
    """The pictures of the firm's people, by name; `folder` is the company's own.  Raises BuildError for one that is
    none or is missing."""
    made = {}
    for at, person in enumerate(offer.people, 1):
        if person.photograph:
            path = folder / person.photograph
            if not path.is_file():
                raise BuildError(f"there is no picture {person.photograph} of {person.name.text} in the company's "
                                 f"folder: copy it there, or take its line out of company.yaml")
            made[person.name.text] = _shown(Photograph(person.photograph, person.name), f"face-{at}", path, cache)
    return made


def _shown(one: Photograph, stem: str, path: Path, cache: Cache) -> Photo:
    data = path.read_bytes()
    made_from = (hashlib.sha256(data).hexdigest(), version("pillow"))
    try:
        width, height, *files = json.loads(cache.read("photo", *made_from) or "")
        return _named(one, stem, width, height, [base64.b64decode(file) for file in files])
    except (ValueError, TypeError):
        pass                                # not made before, or a damaged file, which is as good as none
    width, height, *made = _made(data, path.name)
    cache.write("photo", json.dumps([width, height, *(base64.b64encode(file).decode() for file in made)]), *made_from)
    return _named(one, stem, width, height, made)


def _named(one: Photograph, stem: str, width: int, height: int, files: list[bytes]) -> Photo:
    return Photo(one.of, one.finding, one.room, one.first, width, height,
                 {f"{stem}.{end}": file for end, file in zip(SAVED, files, strict=True)})


def _made(data: bytes, name: str) -> tuple[int, int, *tuple[bytes, ...]]:
    """Width and height in pixels, and the bytes of each format."""
    from PIL import Image, ImageOps
    try:
        with warnings.catch_warnings():
            warnings.simplefilter("error", Image.DecompressionBombWarning)
            with Image.open(io.BytesIO(data), formats=READ) as opened:
                opened.draft("RGB", (2 * LARGEST, 2 * LARGEST))     # a JPEG is read no larger than is needed
                upright = ImageOps.exif_transpose(opened)
                upright.thumbnail((LARGEST, LARGEST), Image.Resampling.LANCZOS)
                bare = _bare(upright)
    except (OSError, SyntaxError, ValueError, Image.DecompressionBombError, Image.DecompressionBombWarning) as error:
        raise BuildError(f"the photograph {name} cannot be read: save it as JPEG, PNG or WebP, "
                         f"of at most {Image.MAX_IMAGE_PIXELS or 0:,} pixels") from error
    saved = []
    for how in SAVED.values():
        into = io.BytesIO()
        bare.save(into, **how)  # type: ignore[arg-type]
        saved.append(into.getvalue())
    return (bare.width, bare.height, *saved)


def _bare(picture: Image) -> Image:
    """The points of a picture on white, in the colours that every screen takes, and nothing that was beside them."""
    from PIL import Image, ImageCms
    profile = picture.info.get("icc_profile")
    if profile and picture.mode == "RGB":
        with suppress(ImageCms.PyCMSError, OSError):        # a damaged profile says nothing of the colours
            picture = ImageCms.profileToProfile(picture, ImageCms.ImageCmsProfile(io.BytesIO(profile)),
                                                ImageCms.createProfile("sRGB")) or picture
    seen = picture.convert("RGBA")
    bare = Image.new("RGB", seen.size, "white")
    bare.paste(seen, mask=seen.getchannel("A"))
    return bare


__all__ = ["Photo", "faces", "photographs"]
