"""How sure a total is, as data for programs: a `Sureness` goes in, what JSON can hold comes out; money is text."""

from typing import Any

from estimator.compare.sure import Mover, Sureness
from estimator.documents.data_numbers import money, number


def sure_data(sureness: Sureness) -> dict[str, Any]:
    """Everything that is known of how sure a total is; shares and chances are numbers from 0 to 1."""
    return {
        "low": money(sureness.low),
        "likely": money(sureness.likely),
        "high": money(sureness.high),
        "counted": money(sureness.counted),
        "least": money(sureness.least),
        "most": money(sureness.most),
        "mean": money(sureness.mean),
        "spread": money(sureness.spread),
        "error": money(sureness.error),
        "draws": sureness.draws,
        "seed": sureness.seed,
        "exact": sureness.exact,
        "suggested": money(sureness.suggested),
        "suggested_share": number(sureness.suggested_share),
        "own": money(sureness.own),
        "own_share": number(sureness.own_share),
        "own_holds": number(sureness.own_holds),
        "movers": [_mover(mover, mover in sureness.main) for mover in sureness.movers],
        "unstated": list(sureness.unstated),
    }


def _mover(mover: Mover, main: bool) -> dict[str, Any]:
    return {
        "name": mover.name,
        "kind": mover.kind,
        "low": money(mover.low),
        "high": money(mover.high),
        "comes_to": {
            "low": money(mover.comes_to.low),
            "likely": money(mover.comes_to.likely),
            "high": money(mover.comes_to.high),
        },
        "share": number(mover.share),
        "main": main,
        "why": mover.why,
        "source": mover.source,
    }
