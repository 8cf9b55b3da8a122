"""wetmass: say a launch vehicle, close it, fly it, read it."""
