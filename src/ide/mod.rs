//! What an editor asks, answered as plain structs that know no protocol.
