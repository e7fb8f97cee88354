//! What to buy, counted from the layout.
