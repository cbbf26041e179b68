"""Drawing: sheets to the friends' website."""
