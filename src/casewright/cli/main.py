"""Commands. They load files, ask the project, and print; they hold no rules.

Exit codes: 0 fine, 1 the order has findings that stop, 2 a file or the call cannot be used.
"""

from __future__ import annotations

import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import replace
from datetime import date
from functools import wraps
from pathlib import Path
from typing import TYPE_CHECKING, Any, NoReturn, TypeVar

import click

from casewright.cache import collect_seldom
from casewright.cli.printing import findings_json, print_findings
from casewright.findings import Finding
from casewright.packet.errors import PacketError
from casewright.shop.errors import FileError, message_line

if TYPE_CHECKING:
    from casewright.packet.pages.setting import PaperName
    from casewright.project import Project
    from casewright.units.printed import System

F = TypeVar("F", bound=Callable[..., Any])
STOPS, UNUSABLE = 1, 2


@click.group(context_settings={"help_option_names": ["-h", "--help"]})
@click.version_option(package_name="casewright")
def main() -> None:
    """From one order to a checked design, layouts of its stock, and the pages for the shop."""
    collect_seldom()


def uses_files(command: F) -> F:
    """Turn errors of the user's files and folders into messages and exit code 2."""

    @wraps(command)
    def run(*args: Any, **kwargs: Any) -> Any:
        try:
            return command(*args, **kwargs)
        except FileError as bad:
            for finding in bad.findings:
                click.echo(f"error: {message_line(finding)}", err=True)
        except PacketError as bad:
            click.echo(f"error: {bad}", err=True)
        except OSError as bad:
            click.echo(f"error: {bad.filename or 'output'}: {bad.strerror or bad}", err=True)
        except RecursionError:
            click.echo("error: the order nests deeper than any piece of furniture; simplify it", err=True)
        sys.exit(UNUSABLE)

    return run  # type: ignore[return-value]


order_argument = click.argument("order", type=click.Path(path_type=Path))
shop_option = click.option("--shop", "shop_file", type=click.Path(path_type=Path), help="Shop file to use.")


units_option = click.option(
    "--units",
    type=click.Choice(["in", "mm"]),
    help="Print sizes in inches or mm; without it, as the shop says, else as the order is written, else in inches.",
)


def opened(order_file: Path, shop_file: Path | None, units: System | None = None) -> Project:
    """Return the project of an order file and the shop that serves it, printed in `units`. Raises FileError."""
    from casewright import Project, load_order
    from casewright.catalogue import installed
    from casewright.order import shop_named_in
    from casewright.shop import find_shop, load_shop
    from casewright.units import INCHES, MILLIMETRES

    choice = find_shop(shop_file, shop_named_in(order_file), order_file)
    shop = load_shop(choice.path, choice.why)
    if units is not None and (shop.style is None or shop.style.system != units):
        shop = replace(shop, style=INCHES if units == "in" else MILLIMETRES)
    return Project(load_order(order_file, shop), shop, catalogue=installed())


def marks_of(project: Project) -> dict[str, str]:
    """Return the label of every marked part by its path."""
    placed = (p for piece in project.assembly.pieces for p in piece.placed)
    return {p.path: mark.label for p in placed if (mark := project.mark_of(p)) is not None}


def pictures_of(project: Project) -> dict[Finding, int]:
    """Return the number of each finding's picture on the findings page of a packet, for those that get one."""
    from casewright.packet.finding_places import numbered_places

    places = numbered_places(project.findings, project.assembly)
    return {finding: number for number, (finding, _) in enumerate(places, 1)}


@main.command()
@click.argument("folder", type=click.Path(path_type=Path, file_okay=False))
@uses_files
def new(folder: Path) -> None:
    """Write a commented sample order and shop into FOLDER."""
    from casewright.cli.samples import write_samples

    written = write_samples(folder)
    for path in written:
        click.echo(f"wrote {path}")
    click.echo(f"next: casewright check {written[0]}")


@main.command()
@order_argument
@shop_option
@units_option
@click.option("--json", "as_json", is_flag=True, help="Print the findings as JSON.")
@uses_files
def check(order: Path, shop_file: Path | None, units: System | None, as_json: bool) -> None:
    """Say what is wrong with ORDER, worst first."""
    project = opened(order, shop_file, units)
    with progress("checking", quiet=as_json):
        findings = project.findings
    if as_json:
        click.echo(findings_json(findings))
    else:
        print_findings(findings, project.style, marks_of(project), pictures_of(project))
    sys.exit(STOPS if project.stops else 0)


@main.command()
@order_argument
@shop_option
@click.option("--json", "as_json", is_flag=True, required=True, help="The form of the answer; JSON is the only one.")
@uses_files
def show(order: Path, shop_file: Path | None, as_json: bool) -> None:
    """Print everything that is computed from ORDER as one JSON document (docs/json.md)."""
    from casewright.packet.document import document_text

    project = opened(order, shop_file)
    click.echo(document_text(project), nl=False)
    sys.exit(STOPS if project.stops else 0)


@main.command()
@order_argument
@shop_option
@units_option
@click.option("--out", "out", type=click.Path(path_type=Path), required=True, help="Folder for the packet.")
@click.option(
    "--paper", type=click.Choice(["letter", "a4"]), help="Paper; without it, Letter for inches and A4 for mm."
)
@click.option("--step", is_flag=True, help="A STEP model of each piece, too; needs pip install 'casewright[step]'.")
@click.option("--draft", is_flag=True, help="Write it in spite of findings that stop; every page is marked.")
@click.option("--date", "day", metavar="YYYY-MM-DD", help="Date on the pages; without it, today's.")
@uses_files
def packet(
    order: Path,
    shop_file: Path | None,
    units: System | None,
    out: Path,
    paper: PaperName | None,
    step: bool,
    draft: bool,
    day: str | None,
) -> None:
    """Write all pages and files of ORDER for the shop into a folder."""
    from casewright.packet.processes import waiting

    printed = _day(day)
    with waiting() as processes:  # they load what drawing needs, while the order is read here
        from casewright.packet.errors import OpenStops
        from casewright.packet.write import write_packet

        project = opened(order, shop_file, units)
        chosen: PaperName = paper or ("letter" if project.style.system == "in" else "a4")
        try:
            with progress("writing") as tell:
                written = write_packet(
                    project, out, paper=chosen, draft=draft, date=printed, progress=tell, step=step, processes=processes
                )
        except OpenStops:
            _refuse(project)
    for path in written:
        click.echo(f"wrote {path}")
    sys.exit(STOPS if project.stops else 0)


def _refuse(project: Project) -> NoReturn:
    print_findings(project.stops, project.style, marks_of(project))
    click.echo("no packet: the order has findings that stop. Mend them, accept them, or use --draft.", err=True)
    sys.exit(STOPS)


def _day(text: str | None) -> str:
    """Return the date for the pages. Raises a usage error for a text that is none."""
    if text is None:
        return date.today().isoformat()  # noqa: DTZ011 - the maker's own calendar
    try:
        return date.fromisoformat(text).isoformat()
    except ValueError:
        raise click.BadParameter(f"got {text!r}; expected a date like 2026-05-31", param_hint="--date") from None


@contextmanager
def progress(what: str, quiet: bool = False) -> Iterator[Callable[[str, float], None]]:
    """Show what is going on, on the error stream and only where a person is watching."""
    from rich.console import Console

    console = Console(stderr=True)
    if quiet or not console.is_terminal:
        yield lambda _step, _share: None
        return
    with console.status(f"{what} …") as status:
        yield lambda step, share: status.update(f"{what}: {step} ({share:.0%})")
