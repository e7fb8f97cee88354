//! Physics as pure functions on SI numbers; each says where it is from.

pub mod airflow;
pub mod airnet;
pub mod conduction;
pub mod drainage;
pub mod fastening;
pub mod galvanic;
pub mod hourly;
pub mod layers;
pub mod leakage;
pub mod moisture;
pub mod mould;
pub mod movement;
pub mod openings;
pub mod psychrometrics;
pub mod rain;
pub mod resistance;
pub mod steel_studs;
pub mod sun;
pub mod weather;
pub mod wind;
pub mod wind_gusts;
