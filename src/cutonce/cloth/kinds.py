"""Classes of cloth by their trade names, and what depends on them: needle, stitch, gathers, shrinkage.

Figures to begin with; a try on a scrap of her own cloth overrides each. Sources stand beside them:
*needles* sweetbriarstudio.blogspot.com, February 2010: 60/8 sheers and silk, 70/10 fine, 80/12 general, 90/14
middling heavy, 100/16 denim, 110/18 very heavy. *Stitches* 10 to 15 to the inch are regulation
(easysewingtechniques.blogspot.com), 1.7 to 2.5 mm; where in that range: common practice. *Gathers* 1.5:1
light, 2:1 ordinary, 2.5 to 3:1 full (several sewing calculators), lighter cloth takes more (craftsy.com,
April 2014); which cloth takes which: common practice. *Shrinkage* as each class says.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

from cutonce.cloth.cloth import Cloth, Nap
from cutonce.errors import Finding

_TABLE = "modacrylic-xf.com"
_WASH = "kembrel.com"
_MEMORY = "from memory"


@dataclass(frozen=True, slots=True)
class Kind:
    """A class of cloth. `stitch` in mm; `gathers` and `shrinkage` from least to most usual.

    `shrinkage` is what an unwashed cloth may lose along the warp and across, as shares; `shrinkage_source`
    says who says so. `nap` is what such a cloth has at least.
    """

    name: str
    examples: str
    needle: str
    stitch: float
    gathers: tuple[float, float]
    shrink_along: float
    shrink_across: float
    shrinkage_source: str
    nap: Nap = "none"


KINDS: Final = (
    Kind("sheer", "chiffon, organza, voile", "60/8", 1.8, (2.5, 3.0), 0.02, 0.02, _MEMORY),
    Kind("silk", "habotai, satin, charmeuse: slippery", "60/8", 2.0, (2.0, 3.0), 0.04, 0.03, _MEMORY),
    Kind("silk crepe", "crepe de chine, georgette", "60/8", 2.0, (2.0, 3.0), 0.10, 0.03, _TABLE),
    Kind("light cotton", "lawn, batiste", "70/10", 2.0, (2.0, 2.5), 0.06, 0.025, _TABLE),
    Kind("cotton", "poplin, calico, print", "80/12", 2.5, (1.5, 2.0), 0.06, 0.025, _TABLE),
    Kind("cotton twill", "drill, gabardine", "90/14", 2.5, (1.5, 1.5), 0.04, 0.03, _TABLE),
    Kind("denim", "", "100/16", 2.5, (1.5, 1.5), 0.04, 0.03, "as cotton twill"),
    Kind("linen", "", "80/12", 2.5, (1.5, 2.0), 0.04, 0.04, _WASH),
    Kind("viscose", "rayon, modal, lyocell", "70/10", 2.2, (2.0, 2.5), 0.10, 0.10, _WASH),
    Kind("wool", "worsted, wool crepe", "80/12", 2.5, (1.5, 2.0), 0.04, 0.035, _TABLE),
    Kind("coating", "melton, boucle", "100/16", 2.5, (1.5, 1.5), 0.04, 0.035, "as wool"),
    Kind("velvet", "velveteen, corduroy: a pile", "80/12", 2.5, (1.5, 2.0), 0.04, 0.03, _MEMORY, "one-way"),
    Kind("polyester", "crepe, taffeta, lining", "70/10", 2.2, (2.0, 2.5), 0.01, 0.01, _MEMORY),
    Kind(
        "cotton knit",
        "jersey, interlock",
        "75/11 ball point (common practice)",
        2.5,
        (1.5, 1.5),
        0.03,
        0.03,
        _WASH,
    ),
)

BY_KIND: Final = {kind.name: kind for kind in KINDS}

DIFFERS = 0.015
"""Shares of shrinkage no further apart say the same: a home wash is not more exact (common practice)."""


def remarks(cloth: Cloth) -> tuple[Finding, ...]:
    """What is worth a look in what a file says of a cloth, judged by its class, where it names one."""
    kind = BY_KIND.get(cloth.kind)
    if kind is None:
        return ()
    found: list[Finding] = []
    if kind.nap == "one-way" and cloth.nap != "one-way":
        message = f"{kind.name} has a pile, but nap is '{cloth.nap}': pieces may come out in two shades"
        found.append(Finding("warning", "nap-of-kind", _where(cloth), message, hint='nap = "one-way"'))
    for way, said, usual in (
        ("along", cloth.shrink_along, kind.shrink_along),
        ("across", cloth.shrink_across, kind.shrink_across),
    ):
        if said < usual - DIFFERS:
            message = (
                f"unwashed {kind.name} may shrink by {100 * usual:g} % {way} ({kind.shrinkage_source}); "
                f"the lay counts on {100 * said:g} %"
            )
            hint = "nothing to do where it is washed already; else wash a measured scrap"
            found.append(Finding("note", "shrinkage-of-kind", _where(cloth), message, hint=hint))
    return tuple(found)


def _where(cloth: Cloth) -> str:
    return f"cloth '{cloth.name}'"


def kinds_table() -> str:
    """The classes as a table in Markdown, for the documentation."""
    head = "| kind | such as | needle | stitch, mm | gathers | may shrink along, across | who says so |"
    rows = [head, "|---|---|---|---|---|---|---|"]
    for k in KINDS:
        low, high = k.gathers
        gathers = f"{low:g}" if low == high else f"{low:g} to {high:g}"
        shrink = f"{100 * k.shrink_along:g} %, {100 * k.shrink_across:g} %"
        name = f"`{k.name}`"
        cells = (name, k.examples, k.needle, f"{k.stitch:g}", gathers, shrink, k.shrinkage_source)
        rows.append(f"| {' | '.join(cells)} |")
    return "\n".join(rows) + "\n"
