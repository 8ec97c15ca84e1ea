"""Words that options of ``calibrate`` take, told here so that help need not import the engine."""

KINDS = ("opaque", "translucent", "wash", "ink", "primer")
OPACITIES = ("one", "two", "few", "many", "never")
GEOMETRIES = {"included": "INCLUDED", "excluded": "EXCLUDED", "45/0": "FORTY_FIVE_ZERO"}
SCALES = {"fraction": "FRACTION", "percent": "PER_CENT"}
FINISHES = ("matt", "unvarnished", "satin", "gloss")
CARDS = ("black", "grey", "white")
