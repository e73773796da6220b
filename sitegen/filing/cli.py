"""The commands of the archive, a group of the command line; like it, this file prints and ends, and imports late."""

from __future__ import annotations

import json
import sys
from contextlib import nullcontext
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
    from datetime import UTC, datetime

    from sitegen.filing.add import Given
    from sitegen.filing.add import add as run

    now = datetime.now(UTC)
    filed = run(find(home), Given(record, now, now.astimezone().date(), scan, honor))
    click.echo(shown(filed.path))
    click.echo(filed.head)
    if filed.entry.honored is not None:
        click.echo(f"Filed all the same, as asked: {filed.entry.honored}", err=True)


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
    from sitegen.filing.store import plain_errors
    from sitegen.filing.verify import BAGS
    from sitegen.filing.verify import second_opinion as ask
    from sitegen.filing.verify import verify as run

    workspace = find(home)
    archive = workspace.archive
    if not archive.is_dir():
        raise UsageError(f"There is no archive in {shown(archive.parent)}. `sitegen archive key` starts one.")
    with plain_errors(archive):
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
