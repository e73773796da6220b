"""One bag as a zip that can be checked anywhere with tools that every system has, and a letter that says how."""

from __future__ import annotations

import zipfile
from pathlib import Path

from sitegen.errors import BuildError, UsageError
from sitegen.filing import bag, disk, keys, ledger
from sitegen.filing.filed import Filed
from sitegen.filing.verify import check, trusted_keys

LETTER = "letter.txt"
LONG_AGO = (1980, 1, 1, 0, 0, 0)
"""The first time that a zip can say: the same bag gives the same zip."""

TEXT = """\
What this is

The folder {bag} holds a record of {firm}: {job}, version {version}, {kind}, filed on {day}.
The record itself is data/record.json. It is a BagIt 1.0 bag (RFC 8493), and any tool for such bags can check it.

How to check it

You need sha512sum and openssl (3.0 or later). Open a terminal in the folder {bag}, then:

1. Is every file as it was filed? Each line must end with OK.

       sha512sum --check --strict manifest-sha512.txt tagmanifest-sha512.txt

2. Did the company's key sign the lists? It must say: Signature Verified Successfully.

       openssl pkeyutl -verify -pubin -inkey signed-by.pem -rawin -in tagmanifest-sha512.txt -sigfile tagmanifest.sig

3. Is it the company's key? The number below is its fingerprint. Ask the company for theirs, by a phone number that
   you know from elsewhere.

       {key}
       openssl pkey -pubin -in signed-by.pem -outform DER | tail -c 32 | sha256sum

4. Is it the bag that the ledger names? With this line in it, the ledger had the fingerprint below. If you hold a
   fingerprint that was printed for you on the day of filing, it must be the same.

       {head}

The signature proves that nothing was changed since the company signed the lists. It does not prove what time it was,
nor who held the pen: the record says what was noted of that.
"""


def export(archive: Path, one: Filed, firm: str, to: Path) -> None:
    """Write the zip of a bag; raises BuildError where it is not as it was filed, UsageError where `to` is there."""
    if to.suffix.lower() != ".zip":
        raise UsageError(f"{disk.shown_link(to)} has to end with .zip.")
    if to.exists() or to.is_symlink():
        raise UsageError(f"{disk.shown_link(to)} is there already; name another file.")
    trusted, _ = trusted_keys(archive, None)
    wrong = check(one.path, trusted).findings
    line = next((line for line in ledger.read(archive) if line.bag == one.entry.bag), None)
    if wrong or line is None:
        raise BuildError(f"{wrong[0] if wrong else one.entry.bag}. Nothing was written. {ledger.MEND}")
    key = keys.public(disk.read(one.path / bag.SIGNED_BY))
    assert key is not None                  # the bag was checked
    letter = TEXT.format(bag=one.entry.bag, firm=firm, job=one.entry.job, version=one.entry.version,
                         kind=one.entry.kind, day=one.entry.day, key=keys.fingerprint(key), head=line.fingerprint)
    beside = to.with_name(f".{to.name}.new")
    beside.unlink(missing_ok=True)
    disk.put(beside, b"")
    with zipfile.ZipFile(beside, "w") as packed:
        _put(packed, LETTER, letter.encode("utf-8"))
        for path in disk.inside(one.path):
            if not path.is_dir():
                _put(packed, f"{one.entry.bag}/{path.relative_to(one.path).as_posix()}", disk.read(path))
    beside.replace(to)


def _put(packed: zipfile.ZipFile, name: str, data: bytes) -> None:
    packed.writestr(zipfile.ZipInfo(name, LONG_AGO), data, zipfile.ZIP_DEFLATED)


__all__ = ["LETTER", "export"]
