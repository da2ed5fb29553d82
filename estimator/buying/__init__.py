"""Buying: from needed pieces and quantities, and what is for sale, to the cheapest whole drums, lengths and packs."""
