"""What a set of dice costs, route by route: lines that add up, ranges, crossovers, what moves the result most."""
