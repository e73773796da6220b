"""Draws the pictures of the demo houses and of the invented firm's people, in the place of photographs.

    python proposals/draw_photographs.py

Each is a plain rendering in lines and tones, and says so in its corner.  Each carries what a camera would write, with
a place and a time that are made up, since the site has to take that out: `tests/sheets/test_photos.py` looks for it.
"""

from __future__ import annotations

import io
import math
import random
from collections.abc import Callable
from pathlib import Path

from PIL import Image, ImageDraw, ImageFilter, ImageFont

HERE = Path(__file__).resolve().parent
WIDE, TALL, TWICE = 800, 600, 2
LARGEST = 25_000
"""Bytes of one file, at most."""

LABEL = "Drawn for this demo"
MAKE, MODEL, TAKEN, GPS, SOFTWARE = 0x010F, 0x0110, 0x0132, 0x8825, 0x0131
MAKER, WHEN = "Invented Camera Works", "2026:11:03 10:15:00"
PLACE = {1: "N", 2: (41.0, 30.0, 0.0), 3: "W", 4: (71.0, 15.0, 0.0)}

INK, PALE, PLASTER, WOOD, DARK, STEEL, COPPER, CLOTH = (
    "#26211c", "#efe8da", "#d9cfbd", "#9a7a56", "#3a3029", "#a9adb0", "#b5693a", "#4d453d")
Pen = ImageDraw.ImageDraw
Scene = Callable[[Pen, random.Random], None]


def _line(pen: Pen, points: list[tuple[float, float]], fill: str, width: int) -> None:
    pen.line(points, fill=fill, width=width, joint="curve")


def _box(pen: Pen, left: float, top: float, right: float, foot: float, fill: str, width: int = 6) -> None:
    pen.rectangle((left, top, right, foot), fill=fill, outline=INK, width=width)


def _disc(pen: Pen, x: float, y: float, r: float, fill: str, width: int = 6) -> None:
    pen.ellipse((x - r, y - r, x + r, y + r), fill=fill, outline=INK, width=width)


def _ground(pen: Pen, fill: str) -> None:
    pen.rectangle((0, 0, WIDE * TWICE, TALL * TWICE), fill=fill)


def joists(pen: Pen, chance: random.Random) -> None:
    """Two single wires on china knobs along the joists of a basement, one through a tube."""
    _ground(pen, DARK)
    for at in range(5):
        left = at * 340 - 60
        pen.polygon([(left, 0), (left + 190, 0), (left + 150, 1200), (left + 40, 1200)], fill=WOOD, outline=INK)
        for _ in range(4):
            x = left + 50 + chance.random() * 80
            _line(pen, [(x, 0), (x + chance.random() * 20 - 10, 1200)], "#86683f", 3)
    for y in (430, 640):
        _line(pen, [(0, y), (800, y + 14), (1600, y)], "#191512", 22)
        for at in range(5):
            x = at * 340 + 35
            _box(pen, x - 70, y - 22, x + 70, y + 38, PALE) if at == 2 else _disc(pen, x, y + 6, 44, PALE)
            if at != 2:
                _disc(pen, x, y + 6, 12, STEEL, 3)


def open_box(pen: Pen, chance: random.Random) -> None:
    """A box in the wall with its cover off; the insulation of two wires has cracked to the copper."""
    _ground(pen, PLASTER)
    pen.polygon([(480, 210), (1130, 190), (1150, 1000), (470, 1010)], fill="#b8ab96", outline=INK)
    _box(pen, 560, 270, 1050, 930, "#4b4f52", 10)
    for start, bend in ((640, -60), (960, 70)):
        _line(pen, [(start, 290), (start + bend, 520), (start + bend / 2, 800)], CLOTH, 46)
        for _ in range(9):
            y = 400 + chance.random() * 380
            x = start + bend * min(1.0, (y - 290) / 230)
            _line(pen, [(x - 24, y), (x + 24, y + chance.random() * 18 - 9)], COPPER, 10)
    _line(pen, [(610, 800), (640, 880)], COPPER, 18)
    _line(pen, [(995, 800), (960, 880)], COPPER, 18)


def grounded_box(pen: Pen, chance: random.Random) -> None:
    """A box in the wall with its cover off, and a cable of three wires in it, one of them bare."""
    _ground(pen, PLASTER)
    _box(pen, 560, 270, 1050, 930, "#7d8f9b", 10)
    for start, fill in ((650, INK), (800, PALE), (950, COPPER)):
        lean = chance.random() * 60 - 30
        _line(pen, [(800, 280), (start + lean, 520), (start, 860)], fill, 36)


def panel(pen: Pen, chance: random.Random) -> None:
    """A full panel with blank labels; one knockout of its side stands open."""
    _ground(pen, "#c9bfae")
    _box(pen, 420, 60, 1180, 1150, STEEL, 12)
    _box(pen, 520, 190, 1080, 1000, "#85898c")
    for row in range(9):
        for left in (560, 830):
            y = 220 + row * 84
            _box(pen, left, y, left + 200, y + 66, "#2c2d2f", 4)
            _box(pen, left + (130 if left == 560 else 20), y + 14, left + (180 if left == 560 else 70), y + 52, PALE, 3)
    for row in range(9):
        _box(pen, 440, 226 + row * 84, 506, 280 + row * 84, PALE, 3)
        _box(pen, 1094, 226 + row * 84, 1160, 280 + row * 84, PALE, 3)
    _disc(pen, 640 + chance.random() * 200, 1080, 44, "#0d0b0a", 8)


def lath(pen: Pen, chance: random.Random) -> None:
    """A hole cut in plaster, with the strips of lath behind it."""
    _ground(pen, PLASTER)
    edge = [(800 + (380 + chance.random() * 50) * math.cos(a / 18 * math.pi),
             600 + (300 + chance.random() * 40) * math.sin(a / 18 * math.pi)) for a in range(36)]
    pen.polygon(edge, fill="#1c1713", outline=INK)
    for y in range(340, 880, 96):
        half = 400 * math.sqrt(max(0.05, 1 - ((y - 590) / 330) ** 2))
        _box(pen, 800 - half, y, 800 + half, y + 62, WOOD, 4)
    _line(pen, [(1170, 420), (1300, 250), (1420, 180)], "#8f846f", 8)
    _line(pen, [(430, 760), (300, 900), (240, 1060)], "#8f846f", 8)


def flaking(pen: Pen, chance: random.Random) -> None:
    """A ceiling on which chalk paint has let go in curls."""
    _ground(pen, "#cfc8ba")
    for _ in range(26):
        x, y, size = chance.random() * 1600, chance.random() * 1200, 40 + chance.random() * 90
        flake = [(x + size * (0.7 + 0.5 * chance.random()) * math.cos(a), y + size * (0.5 + 0.5 * chance.random())
                  * math.sin(a)) for a in (0, 0.9, 1.8, 2.7, 3.6, 4.5, 5.4)]
        pen.polygon([(px + 10, py + 14) for px, py in flake], fill="#8d8576")
        pen.polygon(flake, fill=PALE, outline="#a59c8a")


def tester(pen: Pen, chance: random.Random) -> None:
    """A tester with three lamps in an outlet of three slots; one lamp is lit, which stands for an open ground."""
    _ground(pen, "#cdbfa6")
    _box(pen, 560, 130, 1040, 1070, PALE, 8)
    for y in (330, 790):
        pen.rounded_rectangle((650, y - 130, 950, y + 130), 60, fill="#e4dccb", outline=INK, width=6)
        _box(pen, 720, y - 60, 742, y + 20, INK, 1)
        _box(pen, 850, y - 70, 872, y + 20, INK, 1)
        pen.pieslice((775, y + 40, 825, y + 90), 180, 360, fill=INK)
    pen.rounded_rectangle((600, 650, 1000, 960), 50, fill="#d8b23a", outline=INK, width=8)
    lit = 1 + chance.randrange(1)
    for at, x in enumerate((690, 800, 910)):
        _disc(pen, x, 800, 38, "#fff3b0" if at == lit else "#5a4a22", 6)


def splice(pen: Pen, chance: random.Random) -> None:
    """Newer cable taped to old single wires over loose fill, with no box round them."""
    _ground(pen, "#6d5c49")
    for _ in range(420):
        x, y, r = chance.random() * 1600, 560 + chance.random() * 640, 14 + chance.random() * 26
        pen.ellipse((x - r, y - r * .6, x + r, y + r * .6), fill=chance.choice(["#9b938a", "#b1a99d", "#857c71"]))
    _box(pen, -20, 180, 1620, 420, WOOD)
    _line(pen, [(0, 560), (500, 590), (790, 620)], CLOTH, 34)
    _line(pen, [(0, 760), (480, 720), (790, 650)], CLOTH, 34)
    _line(pen, [(800, 635), (1150, 600), (1600, 690)], PALE, 64)
    pen.rounded_rectangle((700, 560, 960, 710), 40, fill="#131211", outline="#3a3835", width=6)


def radiator(pen: Pen, chance: random.Random) -> None:
    """A radiator of iron columns under a window, with its pipe through the floor."""
    _ground(pen, PLASTER)
    _box(pen, 380, -20, 1220, 330, "#b9c9d2", 14)
    _line(pen, [(800, 0), (800, 330)], INK, 10)
    pen.rectangle((0, 1010, 1600, 1200), fill=WOOD)
    _box(pen, 0, 940, 1600, 1014, PALE)
    for at in range(9):
        x = 400 + at * 92
        pen.rounded_rectangle((x, 430 + chance.randrange(4), x + 72, 1000), 34, fill="#8b8d8c", outline=INK, width=6)
        _line(pen, [(x + 36, 470), (x + 36, 960)], "#6f7170", 8)
    _line(pen, [(1240, 920), (1340, 920), (1340, 1100)], "#6f7170", 34)


def socket(pen: Pen, chance: random.Random) -> None:
    """A lamp socket on a ceiling, brown and black on one side."""
    _ground(pen, "#d3c8b4")
    for r in range(330, 130, -22):
        shade = 90 + r // 3
        pen.ellipse((900 - r, 560 - r, 900 + r, 560 + r), fill=(shade, shade - 22, shade - 48))
    _disc(pen, 800, 600, 300, PALE, 8)
    pen.pieslice((500, 300, 1100, 900), -60, 40, fill="#4a3826")
    _disc(pen, 800, 600, 150, "#b79a58", 8)
    _disc(pen, 800, 600, 96, "#2a2118", 6)
    for at in range(8):
        a = at * math.pi / 4 + chance.random() * .1
        _line(pen, [(800 + 160 * math.cos(a), 600 + 160 * math.sin(a)), (800 + 280 * math.cos(a),
              600 + 280 * math.sin(a))], "#9c907c", 4)


def switch(pen: Pen, chance: random.Random) -> None:
    """A switch with two buttons on a metal plate."""
    _ground(pen, "#b9a98f")
    _box(pen, 560, 160, 1040, 1050, "#a88a4d", 8)
    for y, fill in ((430, "#e9e2d2"), (760, "#1d1917")):
        _disc(pen, 800, y, 96, "#6a5730", 6)
        _disc(pen, 800, y, 62, fill, 6)
    for y in (220, 990):
        _disc(pen, 800, y, 22, "#6a5730", 4)
        _line(pen, [(784, y), (816, y + chance.randrange(6))], INK, 6)


def cord(pen: Pen, chance: random.Random) -> None:
    """A cord that goes under the edge of a carpet and comes out again."""
    _ground(pen, WOOD)
    for at in range(9):
        _line(pen, [(0, at * 140 + 60), (1600, at * 140 + 60)], "#7c5f3e", 6)
    pen.polygon([(420, 0), (1600, 0), (1600, 1200), (560, 1200)], fill="#7b3b34", outline=INK)
    for _ in range(170):
        x, y = 640 + chance.random() * 940, chance.random() * 1200
        _line(pen, [(x, y), (x + 26, y + 12)], "#94524a", 5)
    _line(pen, [(0, 880), (260, 840), (500, 700)], PALE, 30)
    _line(pen, [(490, 690), (900, 600), (1600, 560)], "#8f4a42", 46)


def porch_light(pen: Pen, chance: random.Random) -> None:
    """A light that hangs by its cord from a hook; the cord is worn where it bends."""
    _ground(pen, "#9fb0ab")
    for at in range(8):
        _line(pen, [(at * 210, 0), (at * 210, 250)], "#7f918c", 8)
    pen.rectangle((0, 250, 1600, 280), fill="#6d7d78")
    pen.arc((740, 270, 860, 400), 270, 180, fill=STEEL, width=22)
    _line(pen, [(980, 270), (820, 390), (800, 640)], INK, 30)
    for _ in range(7):
        x = 795 + chance.random() * 40
        _line(pen, [(x, 380), (x + 30, 360 + chance.random() * 60)], COPPER, 7)
    pen.polygon([(700, 640), (900, 640), (1040, 900), (560, 900)], fill="#3f5a50", outline=INK)
    _disc(pen, 800, 930, 84, "#f4ecd0", 6)


def strip(pen: Pen, chance: random.Random) -> None:
    """One outlet with a block of sockets, and six cords in it."""
    _ground(pen, PLASTER)
    _box(pen, 0, 980, 1600, 1200, WOOD)
    _box(pen, 300, 640, 1300, 830, PALE, 8)
    for at in range(6):
        x = 380 + at * 160
        _box(pen, x - 46, 690, x + 46, 790, "#2c2926", 4)
        _line(pen, [(x, 780), (x + chance.random() * 160 - 80, 960), (x + chance.random() * 300 - 150, 1180)],
              chance.choice([INK, "#5d564d", "#e8e0d0"]), 24)
    _line(pen, [(300, 730), (160, 700), (150, 480)], "#e8e0d0", 30)
    _box(pen, 90, 300, 220, 500, PALE, 6)


def bracket(pen: Pen, chance: random.Random) -> None:
    """The ring of an alarm on a ceiling, with no alarm in it."""
    _ground(pen, "#d8d0c1")
    _disc(pen, 800, 600, 300, PALE, 8)
    _disc(pen, 800, 600, 220, "#cfc6b5", 6)
    for a in (0.6, 2.7, 4.4):
        _disc(pen, 800 + 180 * math.cos(a), 600 + 180 * math.sin(a), 20 + chance.randrange(4), STEEL, 4)
    _line(pen, [(800, 600), (850, 700), (830, 800)], "#7a7063", 12)


def boards(pen: Pen, chance: random.Random) -> None:
    """Attic boards, one of them lifted at its end, with the dark below."""
    _ground(pen, DARK)
    for at in range(7):
        y = at * 176
        pen.polygon([(0, y), (1600, y + 20), (1600, y + 176), (0, y + 160)], fill=WOOD, outline=INK)
        for _ in range(5):
            _line(pen, [(0, y + 20 + chance.random() * 120), (1600, y + 30 + chance.random() * 120)], "#86683f", 3)
    pen.polygon([(520, 540), (1600, 560), (1600, 720), (520, 700)], fill="#0f0c0a", outline=INK)
    pen.polygon([(480, 470), (1600, 330), (1600, 470), (480, 620)], fill="#ab8a63", outline=INK)


def window(pen: Pen, chance: random.Random) -> None:
    """A window sill on which paint has chipped."""
    _ground(pen, PLASTER)
    _box(pen, 260, -20, 1340, 700, "#b9c9d2", 16)
    _line(pen, [(800, 0), (800, 700)], PALE, 46)
    _box(pen, 160, 700, 1440, 900, PALE, 8)
    for _ in range(24):
        x, y, size = 200 + chance.random() * 1180, 720 + chance.random() * 150, 14 + chance.random() * 38
        pen.polygon([(x, y), (x + size, y + size * .3), (x + size * .7, y + size), (x - size * .2, y + size * .6)],
                    fill="#9d8464")


def _face(hair: str, skin: str, coat: str, long: bool) -> Scene:
    """A head and shoulders, so plain that it is nobody."""
    def drawn(pen: Pen, chance: random.Random) -> None:
        _ground(pen, "#b7c0bd")
        if long:
            pen.rounded_rectangle((470, 260, 1130, 960), 300, fill=hair)
        pen.rounded_rectangle((360, 860, 1240, 1500), 240, fill=coat, outline=INK, width=8)
        pen.rectangle((700, 780, 900, 930), fill=skin)
        pen.ellipse((560, 270, 1040, 850), fill=skin, outline=INK, width=6)
        pen.pieslice((530, 220, 1070, 760), 180, 360, fill=hair)
        for x in (700, 900):
            _disc(pen, x, 560 + chance.randrange(4), 16, INK, 1)
        pen.arc((700, 600, 900, 740), 30, 150, fill=INK, width=8)
    return drawn


SCENES: dict[str, dict[str, Scene]] = {
    "alder-lane": {"fireplace-light": open_box, "basement-joists": joists, "attic-splice": splice, "panel": panel,
                   "front-bedroom-outlet": tester, "hall-ceiling": flaking, "dining-room-radiator": radiator},
    "garnet-street": {"back-stair-light": socket, "basement-joists": joists, "front-bedroom-outlet": tester,
                      "lower-panel": panel, "porch-outlet": grounded_box, "stair-alarm": bracket,
                      "attic-boards": boards},
    "juniper-court": {"porch-light": porch_light, "living-room-cords": strip, "panel": panel,
                      "hall-outlet": grounded_box, "attic-boards": boards, "dining-room-radiator": radiator},
    "spindle-row": {"stair-switch": switch, "basement-joists": joists, "front-hall-outlet": tester,
                    "rear-bedroom-cord": cord, "parlor-hole": lath, "alarm-bracket": bracket,
                    "rear-bedroom-window": window},
    "people": {"priya-dunmore": _face("#2a211c", "#b98a66", "#5b6c63", True),
               "gus-osterby": _face("#b9b2a6", "#dcb795", "#4c5866", False),
               "walt-okonjo": _face("#17120f", "#7a5238", "#8a6a3d", False)},
}
"""What is drawn: by folder, each picture by the name of its file."""


def picture(scene: Scene, seed: str) -> Image.Image:
    """One scene, drawn twice as large and made smaller, a little darker at its edges, with its label."""
    drawn = Image.new("RGB", (WIDE * TWICE, TALL * TWICE), PLASTER)
    scene(ImageDraw.Draw(drawn), random.Random(seed))
    drawn = drawn.filter(ImageFilter.GaussianBlur(1.2)).resize((WIDE, TALL), Image.Resampling.LANCZOS)
    light = Image.new("L", (WIDE, TALL), 150)
    ImageDraw.Draw(light).ellipse((-80, -120, WIDE + 80, TALL + 120), fill=255)
    shaded = Image.composite(drawn, Image.new("RGB", drawn.size, "#1a1512"), light.filter(ImageFilter.GaussianBlur(90)))
    pen = ImageDraw.Draw(shaded)
    font = ImageFont.load_default(22)
    wide = pen.textlength(LABEL, font=font)
    pen.rectangle((0, TALL - 36, wide + 24, TALL), fill="#ffffff")
    pen.text((12, TALL - 32), LABEL, fill="#000000", font=font)
    return shaded


def as_taken(made: Image.Image) -> bytes:
    """The picture as a camera would write it: with its maker, the time and the place."""
    exif = Image.Exif()
    exif[MAKE], exif[MODEL], exif[TAKEN], exif[SOFTWARE] = MAKER, "Drawn", WHEN, LABEL
    exif.get_ifd(GPS).update(PLACE)
    for quality in (72, 60, 48, 36):
        into = io.BytesIO()
        made.save(into, "JPEG", exif=exif, comment=LABEL.encode(), quality=quality, optimize=True)
        if len(into.getvalue()) <= LARGEST:
            break
    return into.getvalue()


def main() -> None:
    """Draw every picture beside its job, and those of people beside the company's card."""
    for folder, scenes in SCENES.items():
        into = HERE / folder if folder == "people" else HERE / folder / "photos"
        into.mkdir(exist_ok=True)
        for name, scene in scenes.items():
            (into / f"{name}.jpg").write_bytes(as_taken(picture(scene, f"{folder} {name}")))


if __name__ == "__main__":
    main()
