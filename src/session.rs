//! From a world of texts to a checked building, in one call.
