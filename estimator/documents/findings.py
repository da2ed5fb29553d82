"""Findings as text for a terminal and as data: they are printed as questions, under the heading of their level."""

import json
from collections.abc import Sequence
from textwrap import fill

from estimator.checks.model import Finding
from estimator.documents.words import LEVEL_TITLES

WIDTH = 100


def as_text(findings: Sequence[Finding]) -> str:
    """Findings under their headings, wrapped for a terminal; one sentence where there are none."""
    if not findings:
        return (
            "No findings. A job without findings is not thereby approved: your electrician designs, inspects, tests and "
            "certifies.\n"
        )
    blocks = []
    for level, title in LEVEL_TITLES.items():
        of = [finding for finding in findings if finding.level == level]
        if of:
            blocks.append("\n".join([title, *(_line(finding) for finding in of)]))
    return "\n\n".join(blocks) + "\n"


def _line(finding: Finding) -> str:
    text = " ".join(f"{finding.subject}: {finding.message}".split())
    return fill(text, WIDTH, initial_indent="  - ", subsequent_indent="    ", break_long_words=False)


def as_data(findings: Sequence[Finding]) -> str:
    """The findings of estimate.json alone."""
    from estimator.documents.data import finding_data

    return json.dumps([finding_data(finding) for finding in findings], indent=2, ensure_ascii=False) + "\n"
