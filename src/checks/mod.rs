//! One rule a file, one folder a family; every answer is no fault found, a fault, or cannot tell.
