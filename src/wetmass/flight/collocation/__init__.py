"""The best ascent by direct collocation: the plain, slower way that checks the fast shooting."""
