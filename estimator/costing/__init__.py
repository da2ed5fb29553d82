"""The budget: the bill, what is left over, labour, sums, VAT and contingency."""
