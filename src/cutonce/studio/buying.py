"""What to buy for a garment that has been laid: cloth, strips, notions and thread on one list."""

from __future__ import annotations

from cutonce.cloth.shop import shop_unit
from cutonce.finishing.cutlist import cut_list
from cutonce.finishing.thread import thread
from cutonce.sheets.buying_list import BuyingList
from cutonce.sheets.buying_rows import cloth_row, notion_rows, strip_rows, thread_row
from cutonce.sheets.lay_measures import TapeUnit
from cutonce.studio.lay import Outcome
from cutonce.studio.make import do_not_cut
from cutonce.studio.prove import Proven


def tape_unit(outcome: Outcome) -> TapeUnit:
    """Her tape is divided as her shop sells."""
    return "in" if shop_unit(outcome.cloth) == "yd" else "cm"


def buying_list(proven: Proven, outcome: Outcome) -> BuyingList:
    """Everything that the garment takes on the cloth it was laid on. What a check stops is said."""
    unit, done, draft = tape_unit(outcome), proven.finished, proven.replayed.draft
    rows = cut_list(draft, pieces=done)
    sewn = thread_row(thread(draft, rows))
    return BuyingList(
        done.garment,
        (
            cloth_row(outcome.cloth, outcome.needed, outcome.buy, outcome.lacking, unit),
            *strip_rows(outcome.strips, outcome.cloth, unit),
            *notion_rows(rows, unit),
            *((sewn,) if sewn is not None else ()),
        ),
        done.body,
        done.date,
        do_not_cut(proven),
    )
