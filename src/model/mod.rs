//! The wall as parts and joints; knows nothing of syntax.
