"""Inside the engine `layout`: how layouts are found, refuted, counted and put into words."""
