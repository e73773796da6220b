"""The commands.  The only place that prints, with `filing/cli.py`, which holds those of the archive, and the only place
that turns an error into an exit code.

Results go to standard output, messages to standard error.  Exit 0 done, 1 the job has faults, 2 wrong usage.
What a command needs is imported when it runs, so that `--help` is quick.
"""

from __future__ import annotations

import gc
import json
import sys
from collections.abc import Callable
from contextlib import AbstractContextManager, nullcontext
from functools import partial
from pathlib import Path
from typing import Any, TypeVar

import click

from sitegen.errors import Faults, SitegenError
from sitegen.workspace import Workspace, find, nowhere, shown

T = TypeVar("T")
HOME = click.option("--home", metavar="FOLDER", help="The workspace; else the nearest one upward from here.")
JOBS = click.argument("jobs", nargs=-1, metavar="[JOB]...")


@click.group(context_settings={"help_option_names": ["-h", "--help"]})
def cli() -> None:
    """Turn the survey of an old house into a private proposal site."""


@cli.command()
@click.argument("job", metavar="JOB")
@click.option("--form", "with_form", is_flag=True, help="Also JOB/form.html, to print and fill in on a clipboard.")
@HOME
def new(job: str, with_form: bool, home: str | None) -> None:
    """Start JOB: a job.yaml with a blank for each value that is needed; nothing is written over.

    Where there is no workspace yet, here or upward, one is started too, with blank cards of the company.
    """
    from sitegen.job.begin import begin, what_first
    from sitegen.job.scaffold import new as start

    first = nowhere(home)
    for path in begin(first, job, with_form) if first else start(find(home), job, with_form, Path.cwd()):
        click.echo(shown(path))
    if first:
        click.echo(what_first(first, job), err=True)


@cli.command()
@JOBS
@HOME
def check(jobs: tuple[str, ...], home: str | None) -> None:
    """Say every fault of JOBs (all of them if none is named), prices of their own, and what a licensed person must be
    asked."""
    from sitegen.build import check as run

    workspace = find(home)

    def one(folder: Path) -> None:
        found = run(workspace, folder)
        click.echo(f"{folder.name}: no faults")
        for said in found.own_prices:
            click.echo(f"  {said}")
        if found.questions:
            click.echo("  For the licensed person in charge; nothing here is an approval:")
        for question in found.questions:
            click.echo(f"  - {question}")

    _for_each(_folders(workspace, jobs, not jobs), one)


@cli.command()
@JOBS
@click.option("--all", "every", is_flag=True, help="Every job of the workspace.")
@click.option("--jobs", "at_a_time", type=click.IntRange(1), default=1, metavar="N",
              help="Build N jobs at a time, each in a process of its own.")
@HOME
def build(jobs: tuple[str, ...], every: bool, at_a_time: int, home: str | None) -> None:
    """Build the site of JOBs and print the page to open; one that is as a build would make it stays as it is."""
    from sitegen.unchanged import FIRST

    workspace = find(home)
    folders = _folders(workspace, jobs, every)
    with _at_a_time(partial(site_of, workspace), folders, at_a_time) as made:
        def one(folder: Path) -> None:
            click.echo(shown(made(folder) / FIRST))

        if len(folders) > 1 and sys.stderr.isatty():
            with click.progressbar(folders, label="Building", file=sys.stderr) as bar:
                _for_each(bar, one)
        else:
            _for_each(folders, one)


@cli.command()
@click.argument("job", metavar="JOB")
@HOME
def keep(job: str, home: str | None) -> None:
    """Keep JOB as it was handed over, in JOB/offers/N for version N; what is kept is never changed.

    Run it when an offer leaves the house. Then write the next `version:` for anything that changes.
    """
    from sitegen.build import keep as run

    workspace = find(home)
    click.echo(shown(run(workspace, workspace.job(job))))


@cli.command()
@JOBS
@click.option("--all", "every", is_flag=True, help="Every job of the workspace.")
@click.option("--jobs", "at_a_time", type=click.IntRange(1), default=1, metavar="N",
              help="Publish N jobs at a time, each in a process of its own.")
@click.option("--open", "readable", is_flag=True, help="Publish pages that anybody with the address can read.")
@click.option("--fresh", is_flag=True, help="A new path and a new key; the old one is withdrawn.")
@click.option("--withdraw", is_flag=True, help="Take back what stands; a page with nothing of the job stays.")
@click.option("--at", metavar="URL", help="Where your host shows the folder, from https:// on; kept for the next time.")
@click.option("--to", metavar="FOLDER", help="Write there and not into public/; kept for the next time.")
@HOME
def publish(jobs: tuple[str, ...], every: bool, at_a_time: int, readable: bool, fresh: bool, withdraw: bool,
            at: str | None, to: str | None, home: str | None) -> None:
    """Publish JOBs for their readers and print the link of each: one sealed page that only the link opens.

    What leaves the house is kept first, as `keep` does. Nothing is uploaded: the folder is for your host's own tool.
    """
    from datetime import date

    from sitegen.sealing.link import address
    from sitegen.sealing.publish import LIMITS, Wanted
    from sitegen.sealing.publish import withdraw as take_back

    workspace = find(home)
    folders = _folders(workspace, jobs, every)
    wanted = Wanted(date.today(), readable, fresh, address(at) if at else None, Path(to) if to else None)
    if withdraw:
        def back(folder: Path) -> None:
            for gone in take_back(workspace, folder, wanted.day):
                click.echo(f"{folder.name}: withdrawn, {shown(Path(gone.to) / gone.token)}")
        _for_each(folders, back)
        return
    with _at_a_time(partial(published_of, workspace, wanted), folders, at_a_time) as made:
        def one(folder: Path) -> None:
            found = made(folder)
            click.echo(found.link)
            click.echo(f"{folder.name}: version {found.entry.version} in {shown(found.page)}; " + (
                f"the card to print is {shown(found.card)}" if found.card else
                "with --at URL the link is whole, and there is a card to print"), err=True)
            if found.moved:
                click.echo(f"{folder.name}: its pages are those that were kept of version {found.entry.version}; what "
                           "changed since goes out with the next `version:`.", err=True)
        _for_each(folders, one)
    for line in LIMITS[readable]:
        click.echo(line, err=True)


@cli.command()
@click.option("--json", "as_json", is_flag=True, help="For a program to read.")
@HOME
def published(as_json: bool, home: str | None) -> None:
    """List what is published: job, version, form, days, what lapses when, and the link; for the office alone."""
    from datetime import date

    from sitegen.sealing.listed import listed

    workspace = find(home)
    found = listed(workspace, date.today())
    if as_json:
        click.echo(json.dumps([one.as_json() for one in found], indent=1))
        return
    for one in found:
        click.echo(str(one))


class _Later(click.Group):
    """A group whose commands stand in a module of their own, loaded when one of them is asked for."""

    def list_commands(self, ctx: click.Context) -> list[str]:
        from sitegen.filing.cli import commands
        return commands.list_commands(ctx)

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:
        from sitegen.filing.cli import commands
        return commands.get_command(ctx, cmd_name)


@cli.group(cls=_Later)
def archive() -> None:
    """File signed records, list and compare them, and check that nobody changed one."""


@cli.command()
@click.argument("job", metavar="JOB")
@click.option("--port", default=8000, show_default=True, help="Port on this machine.")
@HOME
def serve(job: str, port: int, home: str | None) -> None:
    """Show JOB in a browser on this machine and build it again as its files change; stop with Ctrl-C.

    While the job has faults they stand in the browser, in the place of every page.
    """
    from tempfile import TemporaryDirectory

    from sitegen.build import build as make
    from sitegen.sheets.mkdocs_site import serve as run
    from sitegen.sheets.served import Served, one_line

    workspace = find(home)
    folder = workspace.job(job)
    with TemporaryDirectory(prefix="sitegen-") as shown_in:
        served = Served(Path(shown_in))

        def again() -> None:
            try:
                served.show(make(workspace, folder).folder)
                click.echo(f"{folder.name}: built", err=True)
            except Exception as error:      # an office that looks at its browser must not be left with an old page
                served.refuse(error)
                click.echo(str(error) if isinstance(error, SitegenError) else one_line(error), err=True)

        again()
        click.echo(f"http://127.0.0.1:{port}/index.html")
        run(again, served.folder, workspace.sources(folder), port)


@cli.command()
@click.argument("job", metavar="JOB")
@click.option("--json", "as_json", is_flag=True, help="For a program to read.")
@HOME
def figures(job: str, as_json: bool, home: str | None) -> None:
    """List every figure of JOB with its unit, method and source."""
    from sitegen.build import offer_of
    from sitegen.offer.every import every_figure

    workspace = find(home)
    found = every_figure(offer_of(workspace, workspace.job(job)))
    if as_json:
        click.echo(json.dumps([figure.as_json() for figure in found], indent=1, ensure_ascii=False))
        return
    for figure in found:
        click.echo(f"{figure.name} = {figure.raw()} [{figure.unit}]\n    {figure.method}\n    "
                   f"{figure.source}")


@cli.command()
@HOME
def finished(home: str | None) -> None:
    """Say what the finished jobs tell: whether there are enough to count, and how the firm's judgement stood up."""
    from sitegen.job.load import firm
    from sitegen.review.finished import told

    for line in told(*firm(find(home).home, Path.cwd())):
        click.echo(line)


@cli.command()
@click.argument("job", metavar="JOB")
@HOME
def office(job: str, home: str | None) -> None:
    """Show what JOB costs and earns, for the office alone, here and in JOB/office.html, which nothing publishes."""
    from sitegen.office.run import office as run

    workspace = find(home)
    found = run(workspace, workspace.job(job))
    click.echo(found.text)
    click.echo(shown(found.page))
    if found.faults:
        raise Faults(found.faults)


@cli.command()
@click.argument("name", metavar="FILE")
def schema(name: str) -> None:
    """Print the JSON Schema of FILE (job, company, price-book, cost-book, finished, town or state) for editors."""
    from sitegen.job.schema import schema as made

    click.echo(json.dumps(made(name), indent=1, ensure_ascii=False))


def site_of(workspace: Workspace, folder: Path) -> Path:
    """The folder of a job's site, built where anything that it stands on has changed."""
    from sitegen.unchanged import built

    def make() -> Path:
        from sitegen.build import build as run
        return run(workspace, folder).folder
    return built(workspace, folder, make)


def published_of(workspace: Workspace, wanted: Any, folder: Path) -> Any:
    """One job published, in this process or another."""
    from sitegen.sealing.publish import publish as run
    return run(workspace, folder, wanted)


def _folders(workspace: Workspace, jobs: tuple[str, ...], every: bool) -> list[Path]:
    if not jobs and not every:
        raise click.UsageError("Name a JOB, or give --all.")
    if jobs and every:
        raise click.UsageError("Name JOBs or give --all, not both.")
    folders = [workspace.job(job) for job in jobs] or workspace.jobs()
    if not folders:
        raise click.UsageError(f"There is no job in {shown(workspace.home)}.")
    return folders


def _at_a_time(do: Callable[[Path], T], folders: list[Path], count: int) -> AbstractContextManager[Callable[[Path], T]]:
    """What gives the result of `do` for a folder: worked out when it is asked for, or by then in another process."""
    if count == 1 or len(folders) == 1:
        return nullcontext(do)
    from sitegen.parallel import in_processes
    return in_processes(do, folders, count)


def _for_each(folders: Any, do: Callable[[Path], object]) -> None:
    """One job after another; a fault in one does not stop the next, and the worst exit code stands."""
    worst = 0
    for folder in folders:
        try:
            do(folder)
        except SitegenError as error:
            click.echo(str(error), err=True)
            worst = max(worst, error.exit_code)
    if worst:
        sys.exit(worst)


COLLECT_AFTER = 50_000
"""Objects made between two looks for circles to free: a build makes next to none, and looking takes a tenth of it."""


def main() -> None:
    """Run the command line."""
    gc.set_threshold(COLLECT_AFTER)
    try:
        cli.main(standalone_mode=False)
    except click.exceptions.Abort:
        sys.exit(1)
    except click.ClickException as error:
        error.show()
        sys.exit(error.exit_code)
    except SitegenError as error:
        click.echo(str(error), err=True)
        sys.exit(error.exit_code)


if __name__ == "__main__":
    main()
