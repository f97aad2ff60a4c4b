"""Product sheets for buyers and cards for players: what a set of dice is, how it is read, what its chances are."""
