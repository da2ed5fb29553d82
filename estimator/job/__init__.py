"""The job as the user wrote it: reading, checking, and the frozen `Job` that comes out."""
