"""What a lay's pages say at their top: whose it is, on which cloth, what it takes, and why not to cut yet."""

from __future__ import annotations

from dataclasses import dataclass

from cutonce.lay.plan import Plan
from cutonce.sheets.lay_measures import TapeUnit, down_by_tape, remnant_of, up_by_tape

DO_NOT_CUT = "DO NOT CUT"


@dataclass(frozen=True, slots=True)
class LayFor:
    """Whose lay it is, as printed: the garment, the body, the date, the unit of her tape, the paper, and what
    to say beside the findings. A note means that she must not cut yet."""

    garment: str = ""
    body: str = ""
    date: str = ""
    unit: TapeUnit = "cm"
    paper: str = "a4"
    notes: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Head:
    """What every page says at its top: a title, lines of facts, and why not to cut ("" if she may)."""

    title: str
    facts: tuple[str, ...]
    stop: str = ""


def lay_head(plan: Plan, said: LayFor, parts: int) -> Head:
    """Title and facts for the top of every page."""
    cloth, unit = plan.cloth, said.unit
    title = f"{said.garment}: the lay" if said.garment else "The lay"
    who = [f"for {said.body}" if said.body else "", said.date]
    width = f"{_plain(cloth.width, unit)} wide"
    if cloth.usable < cloth.width:
        width += f", {_plain(cloth.usable, unit)} of it usable"
    first = " · ".join(w for w in (*who, f"{cloth.name}, {width}", f"scale 1:{parts}") if w)
    second = " · ".join(w for w in (*_lengths(plan, unit), f"pieces fill {plan.share:.0%} of it") if w)
    stops = [
        f"{f.where}: {f.message}" if f.where else f.message for f in plan.findings if f.severity == "stop"
    ]
    reasons = [*said.notes, *stops]
    stop = ""
    if reasons:
        first_reason = reasons[0].removeprefix(DO_NOT_CUT).lstrip(": ")
        stop = f"{DO_NOT_CUT}: {first_reason}"
    return Head(title, (first, second), stop)


def _plain(mm: float, unit: TapeUnit) -> str:
    return f"{down_by_tape(mm, unit).removesuffix('.0')} {unit}"


def _lengths(plan: Plan, unit: TapeUnit) -> list[str]:
    """What the lay takes of her length and how it compares with what she has; remnants are named."""
    main = [s for s in plan.sections if remnant_of(plan, s) is None]
    used = [s.name for s in plan.sections if remnant_of(plan, s) is not None]
    words = []
    if main:
        taken = plan.length
        words.append(f"takes {up_by_tape(taken, unit)} {unit} of length")
        if plan.cloth.length is not None:
            spare = plan.cloth.length - taken
            more = (
                f"{down_by_tape(spare, unit)} {unit} to spare"
                if spare >= 0
                else f"{up_by_tape(-spare, unit)} {unit} short"
            )
            words.append(f"{_plain(plan.cloth.length, unit)} at hand: {more}")
        else:
            words.append("to be bought")
    if used:
        words.append(f"remnants: {', '.join(used)}")
    return words
