"""What all tests share: how hypothesis searches, and Qt without a screen where there is none."""

import os

from hypothesis import HealthCheck, settings

# Speed is judged in benchmarks; a busy machine must not fail a property.
settings.register_profile(
    "schemeforge",
    deadline=None,
    suppress_health_check=[HealthCheck.too_slow],
)
settings.load_profile("schemeforge")

if not any(os.environ.get(name) for name in ("DISPLAY", "WAYLAND_DISPLAY")):
    os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")
