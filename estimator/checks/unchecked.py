"""What nothing here looks at yet: each matter is told by name, so that silence is never taken for an answer."""

from estimator.checks.model import Finding
from estimator.job.model import Job

WIRING = "BS 7671:2018+A2:2022"

CIRCUITS = (
    ("cable-capacity", "whether each cable carries what its device lets through, in insulation and beside others"),
    ("voltage-drop", "the voltage drop from the origin to the far points"),
    ("disconnection", "whether each device disconnects in time: loop impedance and protective conductors"),
    ("additional-protection", "residual current, surge and arc protection: which, where, and of which type"),
    ("design-load", "what is connected against what board, feed and main fuse can give"),
    ("earthing", "earthing and bonding, and whether the earth of the house may be taken to another building"),
    ("cable-kind", "whether each kind of cable may be used where it is: signal cable, cable in the ground, joints"),
    ("box-fill", "whether cables and accessories go into each box with room to spare"),
)
TIMBER = ("timber", "where up a stud a hole may be, and cover over the cables")
GROUND = ("ground", "depth, cover, and distance from data, water and gas in the trench")


def not_looked_at(job: Job) -> tuple[Finding, ...]:
    """One `unchecked` for each matter that this version leaves to the electrician whole."""
    matters = [(name, what, WIRING) for name, what in CIRCUITS] if job.circuits else []
    if job.circuits or job.runs:
        matters.append((*TIMBER, "NHBC Standards 6.4.18; BS 7671 522.6"))
    if job.trenches:
        matters.append((*GROUND, "BS 7671 522.8.10"))
    return tuple(
        Finding(name, "unchecked", "job", f"Not looked at here: {what}. Ask your electrician.", source=source)
        for name, what, source in matters
    )
