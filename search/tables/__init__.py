"""Tables that people wrote, as spreadsheets save them: every row is read, or listed with its reason."""
