"""Which way every cable goes: network, sequences, legs, holes and supports."""
