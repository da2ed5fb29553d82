"""Papers: whether a route to a certificate has been agreed, asked before anything else."""

from estimator.checks.model import Finding
from estimator.job.model import Job

COMMON_PRACTICE = "common practice"


def certificate(job: Job) -> tuple[Finding, ...]:
    """Question one for the electrician: who looks, who tests, who signs."""
    agreed = job.certificate
    if agreed is not None and agreed.route and agreed.route != "not agreed" and agreed.agreed_on:
        return ()
    if agreed is not None and agreed.route and agreed.route != "not agreed":
        return (
            Finding(
                "certificate-route",
                "ask",
                "job",
                f"The route to a certificate is given as {agreed.route}, but no day on "
                "which it was agreed: ask your electrician, and write agreed_on under [certificate].",
                source=COMMON_PRACTICE,
            ),
        )
    return (
        Finding(
            "certificate-route",
            "ask",
            "job",
            "No route to a certificate is agreed. Ask your electrician before buying: "
            "who looks at the open frame, who tests, who signs and who notifies? Write it under [certificate].",
            source=COMMON_PRACTICE,
        ),
    )
