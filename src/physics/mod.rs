//! Pure functions on SI numbers, each with its standard.
