"""The page that does the whole job in a browser on the same computer."""
