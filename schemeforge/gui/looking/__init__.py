"""Looking at stand-in models: how they are arranged, lit and seen."""
