"""What comes out: workbook, pages, lists and JSON; they format and never compute."""
