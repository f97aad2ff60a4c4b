"""Reports: scores, terminal text, the page, figures. A report is a function of a stored run alone."""
