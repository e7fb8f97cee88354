//! Facts about water, air and the gap: which bays drain, which breathe, where the barrier ends.
