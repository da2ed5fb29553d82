"""The sheets of the workbook: each module writes one, from an `Estimate` and the plan of where everything stands."""
