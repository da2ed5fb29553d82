"""The ground: trenches and runs of a job go in; trenches without a cable and figures that are not likely come out as questions."""

from collections.abc import Iterator, Mapping
from decimal import Decimal

from estimator.catalogue.model import Catalogue, Rule
from estimator.checks.model import Finding
from estimator.job.model import Dig, Job
from estimator.setout.words import in_metres

CHECK = "trench-figures"
ENTRY = "run-entry-most"


def unused(job: Job) -> tuple[Finding, ...]:
    """One `ask` for each trench in which no run lies: it is dug and sanded, and a cable may lack its length."""
    used = {part.trench for run in job.runs for part in run.stretches}
    return tuple(
        Finding(
            "trench-unused",
            "ask",
            trench.name,
            f"No run lies in the trench {trench.name}, {in_metres(trench.length_mm)} long, and it is counted and priced. "
            f'If a cable goes through it, write {{ in = "trench", trench = "{trench.name}" }} among the stretches of its run.',
            Decimal(trench.length_mm),
            None,
            "mm",
            "common practice",
        )
        for trench in job.trenches
        if trench.name not in used
    )


def unlikely(job: Job, catalogue: Catalogue) -> tuple[Finding, ...]:
    """One `ask` for each figure of a stretch, and for each entry of a run through a trench, that is out of the ordinary.

    What is ordinary are rows of rules.csv; a figure for which the ruleset has none is not asked about.
    """
    rules = {name: rule for (ruleset, name), rule in catalogue.rules.items() if ruleset == job.ruleset}
    return (
        *(
            finding
            for trench in job.trenches
            for number, dig in enumerate(trench.stretches, 1)
            for finding in _stretch(rules, trench.name, number, dig)
        ),
        *(
            finding
            for run in job.runs
            if any(part.trench for part in run.stretches)
            for finding in _most(rules.get(ENTRY), run.name, f"the entry of {run.name}", run.entry_mm)
        ),
    )


def _stretch(rules: Mapping[str, Rule], trench: str, number: int, dig: Dig) -> Iterator[Finding]:
    for key, given in (("length", dig.length_mm), ("depth", dig.depth_mm), ("width", dig.width_mm)):
        what = f"the {key} of stretch {number} of {trench}"
        yield from _least(rules.get(f"trench-{key}-least"), trench, what, given)
        yield from _most(rules.get(f"trench-{key}-most"), trench, what, given)


def _least(rule: Rule | None, subject: str, what: str, given_mm: int) -> Iterator[Finding]:
    if rule is not None and rule.value is not None and given_mm < rule.value:
        yield _told(rule, rule.value, subject, what, given_mm, "less")


def _most(rule: Rule | None, subject: str, what: str, given_mm: int) -> Iterator[Finding]:
    if rule is not None and rule.value is not None and given_mm > rule.value:
        yield _told(rule, rule.value, subject, what, given_mm, "more")


def _told(rule: Rule, usual_mm: Decimal, subject: str, what: str, given_mm: int, than: str) -> Finding:
    said = f"Is {what} right: {in_metres(given_mm)}? It is seldom {than} than {in_metres(usual_mm)}. Check the unit; "
    said += "cable, sand and hours go by it."
    return Finding(CHECK, "ask", subject, said, Decimal(given_mm), usual_mm, "mm", rule.source, rule.edition or None)
