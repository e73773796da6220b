"""The commands of the archive, a group of the command line; like it, this file prints and ends, and imports late."""

from __future__ import annotations

import json
import sys
from contextlib import nullcontext
from datetime import datetime
from pathlib import Path

import click

from sitegen.errors import UsageError
from sitegen.workspace import find, shown

HOME = click.option("--home", metavar="FOLDER", help="The workspace; else the nearest one upward from here.")
NOBODY = "Nothing is filed yet."


@click.group()
def commands() -> None:
    """What stands under `sitegen archive`."""


@commands.command()
@click.argument("record", metavar="RECORD", type=click.Path(path_type=Path))
@click.option("--paper", "scan", metavar="SCAN", type=click.Path(path_type=Path),
              help="The scan of the signed paper, filed with its record.")
@click.option("--honor", metavar="REASON", help="File what came too late all the same; the reason is kept.")
@HOME
def add(record: Path, scan: Path | None, honor: str | None, home: str | None) -> None:
    """File RECORD: an agreement, a change order or a cancellation, held against what was offered and filed before.

    Prints the bag, and the fingerprint of the ledger, to be noted where the office cannot change it.
    """
    from datetime import UTC

    from sitegen.filing.add import Given
    from sitegen.filing.add import add as run

    now = datetime.now(UTC)
    filed = run(find(home), Given(record, now, now.astimezone().date(), scan, honor))
    click.echo(shown(filed.path))
    click.echo(filed.head)
    if filed.entry.honored is not None:
        click.echo(f"Filed all the same, as asked: {filed.entry.honored}", err=True)


@commands.command()
@click.argument("job", metavar="JOB")
@click.option("--version", type=int, required=True, help="The version that was printed.")
@click.option("--option", "option", required=True, help="The key of the option that was signed.")
@click.option("--extra", "extras", metavar="KEY=COUNT", multiple=True, help="An extra and how many; once for each.")
@click.option("--lives", type=click.Choice(["lived-in", "empty"]), required=True, help="How the house is lived in.")
@click.option("--signed-at", metavar="TIME", required=True, help="When, with its zone: 2026-05-06T18:30:00-05:00.")
@click.option("--copy-at", metavar="TIME", required=True, help="When the owners had the full copy in hand.")
@click.option("--owner", "owners", metavar="NAME", multiple=True, required=True, help="Who signed; once an owner.")
@click.option("--firm", metavar="NAME", required=True, help="Who signed for the company.")
@click.option("--ticked", metavar="KEY", multiple=True, help="A statement or a tick that has its mark, or `all`.")
@click.option("--later", metavar="KEY", multiple=True, help="A statement that is due before the start.")
@click.option("--to", metavar="FILE", required=True, type=click.Path(path_type=Path), help="The record to write.")
@HOME
def paper(job: str, version: int, option: str, extras: tuple[str, ...], lives: str, signed_at: str, copy_at: str,
          owners: tuple[str, ...], firm: str, ticked: tuple[str, ...], later: tuple[str, ...], to: Path,
          home: str | None) -> None:
    """Write the record of an agreement of JOB that was signed on paper, as the paper reads; `add --paper` files it."""
    from sitegen.filing import disk
    from sitegen.filing.held import offered
    from sitegen.filing.paper import OnPaper, record
    from sitegen.filing.record import refused
    from sitegen.filing.store import plain_errors

    offer, wrong = offered(find(home).job(job), version)
    if offer is None or wrong:
        raise refused(to, wrong)
    if to.exists() or to.is_symlink():
        raise UsageError(f"{shown(to)} is there already; name another file.")
    read = OnPaper(option, lives, _time(signed_at), _time(copy_at), owners, firm, dict(map(_extra, extras)), ticked,
                   later)
    with plain_errors(to):
        disk.put(to, record(offer, read))
    click.echo(shown(to))


def _time(text: str) -> datetime:
    try:
        return datetime.fromisoformat(text)
    except ValueError as error:
        raise UsageError(f"`{text}` is no time. Write one such as 2026-05-06T18:30:00-05:00.") from error


def _extra(text: str) -> tuple[str, int]:
    key, _, count = text.partition("=")
    if not count.isascii() or not count.isdigit() or not int(count):
        raise UsageError(f"`{text}` is no extra. Write its key and how many, such as bell=1.")
    return key, int(count)


@commands.command("list")
@click.option("--json", "as_json", is_flag=True, help="For a program to read.")
@HOME
def list_(as_json: bool, home: str | None) -> None:
    """List every bag in the order of filing."""
    from msgspec import to_builtins

    from sitegen.filing.filed import entries
    from sitegen.filing.story import listed

    found = entries(find(home).archive)
    if as_json:
        click.echo(json.dumps([to_builtins(one) for one in found], indent=1))
        return
    for entry in found:
        click.echo(listed(entry))
    if not found:
        click.echo(NOBODY, err=True)


@commands.command()
@click.argument("job", metavar="JOB")
@HOME
def show(job: str, home: str | None) -> None:
    """Tell the story of JOB as its records do: signed, changed, cancelled, the total, and what is due when."""
    from datetime import date

    from sitegen.filing.filed import entries, jobs
    from sitegen.filing.story import story

    archive = find(home).archive
    name = Path(job).name
    found = jobs(archive, entries(archive), name)
    if not found:
        raise UsageError(f"Nothing of `{name}` is filed. `sitegen archive list` says what is.")
    for line in story(found, date.today()):
        click.echo(line)


@commands.command()
@click.option("--head", metavar="FINGERPRINT", help="One that was noted outside the office, all or 16 signs.")
@click.option("--second-opinion", is_flag=True, help="Ask the bagit library too, where it is installed.")
@HOME
def verify(head: str | None, second_opinion: bool, home: str | None) -> None:
    """Check every file, signature and link of the archive; says what is not as it was filed, and ends with 1."""
    from sitegen.filing import keys
    from sitegen.filing.store import looked_at
    from sitegen.filing.verify import BAGS
    from sitegen.filing.verify import second_opinion as ask
    from sitegen.filing.verify import verify as run

    workspace = find(home)
    archive = workspace.archive
    if not archive.is_dir():
        raise UsageError(f"There is no archive in {shown(archive.parent)}. `sitegen archive key` starts one.")
    with looked_at(archive):
        mine = workspace.home / keys.NAME
        today = keys.private(mine).public_key() if mine.is_file() else None
        count = len(list((archive / BAGS).glob("*"))) if (archive / BAGS).is_dir() else 0
        watched = count > 1 and sys.stderr.isatty()
        with click.progressbar(length=count, label="Checking", file=sys.stderr) if watched else nullcontext() as bar:
            report = run(archive, today, head, (lambda: bar.update(1)) if bar else lambda: None)
        findings = [*report.findings, *(ask(archive) if second_opinion else ())]
    for finding in findings:
        click.echo(str(finding))
    click.echo(f"{report.bags} bags, {report.files} files, {len(findings)} findings; the ledger ends with", err=True)
    click.echo(report.head, err=bool(findings))
    if findings:
        sys.exit(1)


@commands.command()
@click.argument("one", metavar="BAG")
@click.argument("other", metavar="OTHER")
@HOME
def compare(one: str, other: str, home: str | None) -> None:
    """Say what differs between BAG and OTHER, two records of one job: price, extras, scope, words and dates."""
    from sitegen.filing.compare import compare as run
    from sitegen.filing.filed import named

    archive = find(home).archive
    lines = list(run(named(archive, one), named(archive, other)))
    for line in lines:
        click.echo(line)
    if not lines:
        click.echo("They say the same.", err=True)


@commands.command()
@click.argument("bag", metavar="BAG")
@click.option("--to", metavar="FILE.zip", required=True, type=click.Path(path_type=Path), help="The file to write.")
@HOME
def export(bag: str, to: Path, home: str | None) -> None:
    """Write BAG as a zip that anybody can check, with a letter that says how; it holds all that was filed."""
    from sitegen.filing.add import firm_of
    from sitegen.filing.export import export as run
    from sitegen.filing.filed import named
    from sitegen.filing.store import plain_errors

    workspace = find(home)
    with plain_errors(to):
        run(workspace.archive, named(workspace.archive, bag), firm_of(workspace), to)
    click.echo(shown(to))


@commands.command()
@click.option("--rotate", is_flag=True, help="Change to a new key; both sign the note that leads to it.")
@HOME
def key(rotate: bool, home: str | None) -> None:
    """Make the signing key of the company, once; it stands in the workspace, readable by its owner alone.

    Keep a copy where the archive is not. Prints the fingerprint of the public key.
    """
    from datetime import date

    from sitegen.filing import keys
    from sitegen.filing.store import opened

    workspace = find(home)
    with opened(workspace) as archive:
        if rotate:
            click.echo(keys.rotate(workspace, archive.path, date.today()).new)
        else:
            click.echo(keys.fingerprint(keys.make(workspace, archive.path)))
    click.echo(f"{shown(workspace.home / keys.NAME)} signs from now on; keep a copy of it away from the archive.",
               err=True)


__all__ = ["commands"]
