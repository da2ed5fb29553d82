"""Priced lists that come back from a merchant: bytes and an `Estimate` go in, prices, changes and problems come out."""
