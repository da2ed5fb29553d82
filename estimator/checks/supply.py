"""The supply: which values were measured, whether the chain of boards reaches the origin, and the ground."""

from estimator.checks.model import Finding
from estimator.job.model import Job, Stated

COMMON_PRACTICE = "common practice"


def supply_values(job: Job) -> tuple[Finding, ...]:
    """One question for every value of the supply that is missing or was not measured."""
    supply = job.supply
    if supply is None:
        return (
            Finding(
                "supply-values",
                "unchecked",
                "supply",
                "Nothing is said about the supply. Ask your electrician for earthing, "
                "external impedance, voltage and main fuse, and write them under [supply].",
                source=COMMON_PRACTICE,
            ),
        )
    told = []
    if not supply.earthing:
        told.append(
            Finding(
                "supply-values",
                "ask",
                "earthing",
                "The earthing of the supply is not given: ask your electrician which it is.",
                source=COMMON_PRACTICE,
            )
        )
    for name, value in (
        ("external impedance", supply.external_impedance),
        ("voltage", supply.voltage),
        ("main fuse", supply.main_fuse),
    ):
        finding = _not_measured(name, value)
        if finding is not None:
            told.append(finding)
    return tuple(told)


def _not_measured(name: str, value: Stated | None) -> Finding | None:
    subject = name
    if value is None:
        return Finding(
            "supply-values",
            "ask",
            subject,
            f"The {name} is not given: ask your electrician to measure or read it.",
            source=COMMON_PRACTICE,
        )
    if value.measured:
        return None
    amount = f"{value.value} {value.unit}"
    if value.basis:
        said = f"The {name} of {amount} is a {value.basis} value, not a reading"
    else:
        said = f"The {name} is given as {amount}, and nothing says how that was found"
    message = f"{said}: ask your electrician to measure or read it before anything rests on it."
    return Finding("supply-values", "ask", subject, message, value.value, None, value.unit, COMMON_PRACTICE)


def chain(job: Job) -> tuple[Finding, ...]:
    """Boards in the job of which nothing says where their supply comes from."""
    return tuple(
        Finding(
            "supply-chain",
            "unchecked",
            board.name,
            f"Nothing says what feeds {board.name}: write fed_by with the "
            "name of a run, so that its length, cable and device can be looked at.",
            source=COMMON_PRACTICE,
        )
        for board in job.boards
        if not board.outside_job and board.fed_by is None
    )


def ways_outside(job: Job) -> tuple[Finding, ...]:
    """What stands in a board that is not ours: its device has to match that board, and is in no list here."""
    told = []
    for board in job.boards:
        if not board.outside_job:
            continue
        if board.way is None:
            told.append(
                Finding(
                    "way-outside",
                    "ask",
                    board.name,
                    f"Nothing is said of the way that {board.name} gives: "
                    "ask your electrician for a spare way and the device in it.",
                    source=COMMON_PRACTICE,
                )
            )
            continue
        spare = "" if board.way.spare else " No spare way is given for it."
        told.append(
            Finding(
                "way-outside",
                "ask",
                board.name,
                f"The {board.way.device} in {board.name} must be of that board's own make, so "
                f"it is in none of our lists and not in the total.{spare} Ask your electrician to see the board and price it.",
                source=COMMON_PRACTICE,
            )
        )
    return tuple(told)


def trenches(job: Job) -> tuple[Finding, ...]:
    """What to ask before the first spade."""
    return tuple(
        Finding(
            "buried-services",
            "ask",
            trench.name,
            f"Before digging {trench.name}: ask the utilities for plans of buried "
            "services, and dig trial holes by hand. Depth and cover are for your electrician and the authority of "
            "the area to settle.",
            source=COMMON_PRACTICE,
        )
        for trench in job.trenches
    )
