"""Reading: files to raw notes; knows fences, lines, columns and pictures, nothing of building."""
