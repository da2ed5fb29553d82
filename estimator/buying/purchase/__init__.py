"""The whole purchase as one problem: what is needed and the merchants' terms in, what to buy from whom at least money out.

`problem` lays it out in whole numbers, `cheapest` answers for one part, `branch` settles which merchants are used,
`thresholds` what it takes to reach a merchant's limits: `shares` bounds a case of that, `closing` settles it, by `table` or
`sums` where it is small, else by `proof` (with `programme`). `check` looks at the result a second time.
"""
