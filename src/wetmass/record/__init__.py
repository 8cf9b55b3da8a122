"""Frozen records: a step of the working, a vehicle, a flight, a finding.  They compute no physics."""
