"""Scenarios: a job and named changes to it go in, what each comes to beside the job as it stands comes out."""
