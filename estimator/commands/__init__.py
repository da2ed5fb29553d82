"""What the commands of `studbay` do: each reads, calls the stages, writes, and says what it did; no rule of the trade lives here."""
