"""Photographs of a job: shown small, upright and on their mat, with nothing of where or when they were taken."""

from __future__ import annotations

import io
from pathlib import Path

import pytest
from bs4 import BeautifulSoup
from PIL import Image, ImageCms

from sitegen.build import build
from sitegen.errors import BuildError, Faults
from sitegen.figure import Quote, Source
from sitegen.offer.offer import Photograph
from sitegen.sheets.cache import Cache
from sitegen.sheets.photos import LARGEST, SAVED, Photo, _shown
from sitegen.workspace import Workspace
from tests.built import HOUSES, House, built
from tests.helpers import DEMO, JOB, JOB_FILE, demo_copy

OF = Quote("The fuse box in the cellar, with its door open", Source("survey", "line 1"))
MAKER = "Invented Camera Works"
ORIENTATION, MAKE, TAKEN, GPS = 0x0112, 0x010F, 0x0132, 0x8825
SECRETS = (b"Exif", b"GPS", MAKER.encode(), b"2026:11:03", b"a comment", b"ICCP", b"ICC_PROFILE", b"http:")


def picture(wide: int = 1600, tall: int = 1000) -> Image.Image:
    """A made-up picture: a wall with a dark square in its upper left corner."""
    made = Image.new("RGB", (wide, tall), (200, 180, 150))
    made.paste((20, 20, 20), (0, 0, wide // 4, tall // 4))
    return made


def with_place(made: Image.Image, orientation: int = 1) -> bytes:
    """A picture as a camera would write it: with its maker, the time, the place on earth and a comment."""
    exif = Image.Exif()
    exif[ORIENTATION], exif[MAKE], exif[TAKEN] = orientation, MAKER, "2026:11:03 10:15:00"
    exif.get_ifd(GPS).update({1: "N", 2: (41.0, 30.0, 0.0), 3: "W", 4: (71.0, 15.0, 0.0)})
    into = io.BytesIO()
    profile = ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB")).tobytes()
    made.save(into, "JPEG", exif=exif, comment=b"a comment", icc_profile=profile, quality=90)
    return into.getvalue()


@pytest.fixture(autouse=True)
def _own_cache(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path / "cache"))


def shown(tmp_path: Path, data: bytes) -> Photo:
    """A photograph made from these bytes."""
    path = tmp_path / "hall.jpg"
    path.write_bytes(data)
    return _shown(Photograph(path.name, OF), "photo-1", path, Cache())


def test_the_made_up_picture_carries_a_place() -> None:
    """What the next tests take out is really there to begin with."""
    data = with_place(picture(), 6)
    read = Image.open(io.BytesIO(data)).getexif()
    assert dict(read.get_ifd(GPS))[2] == (41.0, 30.0, 0.0)
    assert (read[MAKE], read[ORIENTATION]) == (MAKER, 6)
    assert b"Exif" in data
    assert MAKER.encode() in data
    assert b"a comment" in data
    assert b"ICC_PROFILE" in data


def test_no_place_no_time_and_no_maker_is_left(tmp_path: Path) -> None:
    """Neither format keeps anything that stood beside the points of the picture."""
    made = shown(tmp_path, with_place(picture()))
    assert list(made.files) == ["photo-1.webp", "photo-1.jpg"]
    for name, data in made.files.items():
        opened = Image.open(io.BytesIO(data))
        opened.load()
        assert dict(opened.getexif()) == {}, name
        assert not {"exif", "icc_profile", "comment", "xmp"} & set(opened.info), name
        assert [secret for secret in SECRETS if secret in data] == [], name


def test_a_photograph_is_made_small_and_keeps_its_shape(tmp_path: Path) -> None:
    """The longer side has at most 1,200 pixels; a smaller picture is not made larger; the size said is its size."""
    for size, wanted in (((4000, 3000), (1200, 900)), ((900, 3600), (300, 1200)), ((320, 200), (320, 200))):
        made = shown(tmp_path, with_place(picture(*size)))
        assert (made.width, made.height) == wanted
        assert max(wanted) <= LARGEST
        for data, format_ in zip(made.files.values(), ("WEBP", "JPEG"), strict=True):
            opened = Image.open(io.BytesIO(data))
            assert (opened.format, opened.size) == (format_, wanted)


def test_a_photograph_stands_upright(tmp_path: Path) -> None:
    """A picture that its camera notes as turned is turned back before that note is taken out."""
    made = shown(tmp_path, with_place(picture(), 6))            # the camera was held a quarter turn to the left
    assert (made.width, made.height) == (750, 1200)
    for data in made.files.values():
        opened = Image.open(io.BytesIO(data)).convert("L")
        corners = [opened.getpixel((x, y)) for x in (20, 730) for y in (20, 1180)]
        assert [isinstance(point, int) and point < 60 for point in corners] == [False, False, True, False]


def test_the_same_picture_gives_the_same_bytes(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Made twice, and made and read back from the cache, a photograph is the same to the byte."""
    data = with_place(picture())
    first = shown(tmp_path, data)
    assert list((tmp_path / "cache").rglob("photo-*.json"))
    kept = shown(tmp_path, data)
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path / "another"))
    assert first == kept == shown(tmp_path, data)
    for path in (tmp_path / "another").rglob("photo-*.json"):
        path.write_text("[1, 2", "utf-8")
    assert shown(tmp_path, data) == first, "a damaged file of the cache is not used"


def test_a_picture_with_holes_stands_on_white(tmp_path: Path) -> None:
    """What can be seen through is white, in both formats."""
    into = io.BytesIO()
    Image.new("RGBA", (40, 40), (255, 0, 0, 0)).save(into, "PNG")
    for data in shown(tmp_path, into.getvalue()).files.values():
        point = Image.open(io.BytesIO(data)).convert("RGB").getpixel((20, 20))
        assert isinstance(point, tuple)
        assert min(point) > 250


@pytest.mark.parametrize("data", [b"", b"not a picture", b"GIF89a" + bytes(40), with_place(picture())[:900]])
def test_what_is_no_picture_is_refused(tmp_path: Path, data: bytes) -> None:
    """A file that cannot be read as a picture stops the build and is named."""
    with pytest.raises(BuildError, match=r"^the photograph hall\.jpg cannot be read: save it as JPEG, PNG or WebP"):
        shown(tmp_path, data)


def test_a_picture_far_too_large_is_refused(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A picture with more pixels than Pillow takes without a warning is refused before it is unpacked."""
    monkeypatch.setattr(Image, "MAX_IMAGE_PIXELS", 1000)
    with pytest.raises(BuildError, match=r"of at most 1,000 pixels$"):
        shown(tmp_path, with_place(picture(40, 40)))


def without_pictures(home: Path) -> Path:
    """A workspace in which neither the demo house nor the firm's people have a picture."""
    job, company = home / JOB_FILE, home / "company.yaml"
    job.write_text(job.read_text("utf-8").partition("photographs:")[0], "utf-8")
    company.write_text("".join(line for line in company.read_text("utf-8").splitlines(keepends=True)
                               if "photograph:" not in line), "utf-8")
    return home


@pytest.fixture(scope="module")
def site(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The demo house with two photographs of its own, built."""
    home = without_pictures(demo_copy(tmp_path_factory.mktemp("photos")))
    folder = home / JOB
    (folder / "hall.jpg").write_bytes(with_place(picture()))
    picture(300, 400).save(folder / "attic.png")
    with (home / JOB_FILE).open("a", encoding="utf-8") as job:
        job.write('photographs:\n  - file: hall.jpg\n    of: The fuse box, "open" & <live>\n'
                  "  - file: attic.png\n    of: Two wires at 1 knob in the attic\n")
    return build(Workspace(home, home / "site"), folder).folder


def test_photographs_stand_on_the_sheet_of_rooms(site: Path) -> None:
    """What belongs to no finding and to no room stands in a fold of its own.  Each is a picture in two formats with its
    size, read late, with what it shows below it and for who cannot see."""
    page = BeautifulSoup((site / "rooms.html").read_text("utf-8"), "html.parser")
    section = page.select_one("details > #rooms-seen")
    assert section
    figures = section.select("figure")
    said = ['The fuse box, "open" & <live>', "Two wires at 1 knob in the attic"]
    assert [figure.select_one("figcaption").get_text() for figure in figures] == said  # type: ignore[union-attr]
    for at, (figure, size) in enumerate(zip(figures, ((1200, 750), (300, 400)), strict=True), 1):
        source, image = figure.select_one("picture > source"), figure.select_one("picture > img")
        assert source
        assert image
        assert (source["type"], source["srcset"]) == ("image/webp", f"photo-{at}.webp")
        assert (image["src"], image["alt"], image["loading"]) == (f"photo-{at}.jpg", said[at - 1], "lazy")
        assert (image["width"], image["height"]) == tuple(str(side) for side in size)
        for name in (f"photo-{at}.webp", f"photo-{at}.jpg"):
            with Image.open(site / name) as opened:
                assert opened.size == size
    for path in site.glob("*.html"):
        assert path.name == "rooms.html" or "<img" not in path.read_text("utf-8"), path.name


def test_photographs_stand_on_the_mat() -> None:
    """The ground behind a photograph is the mat and not the colour of the paper."""
    style = (Path(__file__).resolve().parents[2] / "theme/parts/photographs/photographs.css").read_text("utf-8")
    assert ".photos picture{display:block;background:var(--mat)" in style


def test_a_house_without_photographs_needs_no_pillow(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Pillow is imported for a photograph and for nothing else, and no section stands where there is none."""
    import sys
    home = without_pictures(demo_copy(tmp_path))
    monkeypatch.setitem(sys.modules, "PIL", None)
    built = build(Workspace(home, home / "site"), home / JOB).folder
    assert "rooms-seen" not in (built / "rooms.html").read_text("utf-8")
    assert set(SAVED) == {"webp", "jpg"}
    assert [path.name for path in built.iterdir() if path.suffix in {".webp", ".jpg"}] == []


DRAWN = sorted([*DEMO.glob("*/photos/*.jpg"), *DEMO.glob("people/*.jpg")])


def test_the_demo_pictures_carry_what_a_camera_writes() -> None:
    """Each picture of the demo is small, and has a maker, a time and a place, so that the next test takes one out."""
    assert len(DRAWN) >= 6 * len(HOUSES)
    for path in DRAWN:
        assert path.stat().st_size <= 25_000, path
        with Image.open(path) as opened:
            assert opened.size == (800, 600)
            read = opened.getexif()
            assert (read[MAKE], read[TAKEN], dict(read.get_ifd(GPS))[1]) == (MAKER, "2026:11:03 10:15:00", "N"), path


@pytest.fixture(scope="module", params=HOUSES)
def demo(request: pytest.FixtureRequest) -> House:
    """Each house in turn, with its own pictures."""
    return built(request.param)


def test_no_built_picture_of_the_demo_keeps_a_place(demo: House) -> None:
    """Each house has six photographs or more and the faces of the firm, and none says where or when it was taken."""
    made = [path for path in demo.folder.iterdir() if path.suffix in {".webp", ".jpg"}]
    assert len([path for path in made if path.name.startswith("photo-")]) >= 12
    for path in made:
        with Image.open(path) as opened:
            assert dict(opened.getexif()) == {}, path.name
        assert [secret for secret in SECRETS if len(secret) > 4 and secret in path.read_bytes()] == [], path.name


def test_a_photograph_stands_by_its_finding_and_in_its_room(demo: House) -> None:
    """On page 2 under the number of the finding, on page 6 in the fold of the room; each says that it is drawn."""
    for photograph in demo.offer.photographs:
        assert photograph.of.text.endswith("Drawn for this demo.")
        if photograph.finding is not None:
            (place,) = demo.at("report.html", "#report-photographs")
            assert photograph.of.text in [one.get_text() for one in place.select("figcaption")]
            assert str(photograph.finding) in [one["value"] for one in place.select("data.key")]
        if photograph.room is not None:
            key = next(room.key for room in demo.offer.rooms if room.name.text == photograph.room)
            (place,) = demo.at("rooms.html", f"#rooms-{key}")
            assert photograph.of.text in [one.get_text() for one in place.select("figcaption")]


def test_who_comes_has_a_face_and_links_to_reach_them(demo: House) -> None:
    """A picture where there is one, a call, and a text message and an e-mail where they take one."""
    (people,) = demo.at("who.html", ".people")
    rows = people.find_all("li")
    assert len(rows) == len(demo.offer.people)
    for row, person in zip(rows, demo.offer.people, strict=True):
        links = [str(link["href"]).partition(":")[0] for link in row.select("a")]
        assert links == ["tel", *(["sms"] if person.text else []), *(["mailto"] if person.e_mail else [])]
        assert [image["alt"] for image in row.select("img")] == [person.name.text] * bool(person.photograph)


@pytest.mark.parametrize(("line", "says"), [
    ("finding: 99", "No finding has the number 99."), ("room: Living rom", "No room is called `Living rom`."),
    ("first: yes\n  - {file: attic.png, of: An attic, first: yes}\n  - {file: attic.png, of: A roof, first: yes}",
     "A third photograph would stand on the first sheet.")])
def test_what_a_photograph_proves_is_there(tmp_path: Path, line: str, says: str) -> None:
    """A finding and a room that a photograph names exist, and at most two stand on the first sheet."""
    home = without_pictures(demo_copy(tmp_path))
    picture(300, 400).save(home / JOB / "attic.png")
    with (home / JOB_FILE).open("a", encoding="utf-8") as job:
        job.write(f"photographs:\n  - file: attic.png\n    of: An attic\n    {line}\n")
    with pytest.raises(Faults) as raised:
        build(Workspace(home, home / "site"), home / JOB)
    assert [fault.problem for fault in raised.value.faults if fault.problem == says] == [says]
