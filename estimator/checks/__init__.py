"""Findings: places where the job meets a limit, or leaves a question open."""
