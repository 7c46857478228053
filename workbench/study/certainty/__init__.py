"""How sure a run is when gauges, switch, flow and bucket may be off."""
