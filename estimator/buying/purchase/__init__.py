"""The whole purchase as one problem: what is needed and the merchants' terms in, what to buy from whom at least money out.

`problem` lays it out in whole numbers, `cheapest` answers for one part, `branch` settles which merchants are used,
`thresholds` what it takes to reach a merchant's limits, `check` looks at the result a second time.
"""
