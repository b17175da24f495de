"""Where do the lines of a drawing go? Pure geometry for the pages' own SVG; no drawing library, no script."""
