"""What every command does with its answer: JSON for programs, words for people; and what several ask alike."""

from typing import TYPE_CHECKING

import typer

if TYPE_CHECKING:
    from pydantic import BaseModel

    from oventide.kitchen.model import Kitchen
    from oventide.services.travelling import ToldAnswer


def print_json(answer: "BaseModel") -> None:
    """One JSON object on the standard output; figures that are not numbers come out as null."""
    typer.echo(answer.model_dump_json(indent=2))


def tell(answer: "ToldAnswer", json: bool) -> None:
    """A question of the bench, answered."""
    if json:
        return print_json(answer)
    from oventide.cli.telling import show_told

    return show_told(answer.name, answer.told)


def ensemble_asked(seed: str, members: str) -> tuple[int, int]:
    """Seed and members as typed."""
    from oventide.services import asking

    return asking.whole_number(seed, "seed", 0, 2**31 - 1) or 0, asking.whole_number(members, "members", 1, 4096) or 1


def kitchen_or_usual(name: str | None) -> "Kitchen":
    """The kitchen that was named, or one of which nothing is known."""
    from oventide.cli.opening import open_kitchen
    from oventide.services.foreseeing import usual_kitchen

    return open_kitchen(name) or usual_kitchen()
