"""The catalogue: CSV tables shipped with the program or written beside the job, read into a frozen `Catalogue`."""
