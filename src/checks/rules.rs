//! The list of all rules, in the order in which they run and are listed.

use super::{
    Rule, air, disputes, fastening, fire, flashing, gap, laps, metals, movement, order, registers, service,
    setting_out, water,
};

/// Every rule. A test holds that each file of a family is listed here and has its cases.
pub static RULES: &[&dyn Rule] = &[
    // water
    &water::drain_no_exit::DrainNoExit,
    &water::weep_on_furring::WeepOnFurring,
    &water::weep_too_small::WeepTooSmall,
    &water::weep_above_floor::WeepAboveFloor,
    &water::base_runs_to_corner::BaseRunsToCorner,
    &water::furring_dams::FurringDams,
    &water::nailer_above_head::NailerAboveHead,
    &water::block_dams_gap::BlockDamsGap,
    &water::gap_too_tall::GapTooTall,
    &water::cladding_on_ledge::CladdingOnLedge,
    &water::base_near_ground::BaseNearGround,
    &water::base_near_roof::BaseNearRoof,
    &water::base_grade_rises::BaseGradeRises,
    &water::roof_no_kick_out::RoofNoKickOut,
    // gap
    &gap::gap_shallow::GapShallow,
    &gap::gap_no_outlet::GapNoOutlet,
    &gap::vent_too_small::VentTooSmall,
    &gap::bay_cut_off::BayCutOff,
    &gap::gap_joins_roof::GapJoinsRoof,
    &gap::gap_joins_damp_space::GapJoinsDampSpace,
    &gap::exhaust_in_gap::ExhaustInGap,
    // air
    &air::air_no_barrier::AirNoBarrier,
    &air::air_open_at_base::AirOpenAtBase,
    &air::air_open_at_top::AirOpenAtTop,
    &air::air_open_at_corner::AirOpenAtCorner,
    &air::air_open_at_transition::AirOpenAtTransition,
    &air::air_open_at_opening::AirOpenAtOpening,
    &air::air_open_at_floor::AirOpenAtFloor,
    &air::service_unsealed::ServiceUnsealed,
    &air::service_crowded::ServiceCrowded,
    &air::tape_wrong_surface::TapeWrongSurface,
    &air::opening_sealed_to_cladding::OpeningSealedToCladding,
    &air::building_open::BuildingOpen,
    &air::air_open_at_point::AirOpenAtPoint,
    &air::air_joint_does_not_bond::AirJointDoesNotBond,
    &air::air_joint_too_narrow::AirJointTooNarrow,
    &air::air_joint_moves_too_far::AirJointMovesTooFar,
    &air::air_joint_too_cold::AirJointTooCold,
    &air::sealant_no_recheck::SealantNoRecheck,
    &air::tape_unknown_family::TapeUnknownFamily,
    &air::membrane_exposed_too_long::MembraneExposedTooLong,
    &air::lap_held_by_adhesive::LapHeldByAdhesive,
    &air::fastener_through_bare_membrane::FastenerThroughBareMembrane,
    &air::seam_buried::SeamBuried,
    &air::floor_joists_through::FloorJoistsThrough,
    // registers
    &registers::edge_no_detail::EdgeNoDetail,
    &registers::point_no_detail::PointNoDetail,
    &registers::promise_no_partner::PromiseNoPartner,
    &registers::area_bare::AreaBare,
    &registers::area_overlap::AreaOverlap,
    &registers::accept_lapsed::AcceptLapsed,
    &registers::accept_no_authority::AcceptNoAuthority,
    &registers::accept_stale::AcceptStale,
    &registers::limit_overridden::LimitOverridden,
    // disputes
    &disputes::gap_top_not_as_ruled::GapTopNotAsRuled,
    &disputes::corner_baffle_not_as_ruled::CornerBaffleNotAsRuled,
    &disputes::trim_joint_not_as_ruled::TrimJointNotAsRuled,
    // flashing
    &flashing::flashing_flat::FlashingFlat,
    &flashing::flashing_no_drip::FlashingNoDrip,
    &flashing::flashing_no_end_dam::FlashingNoEndDam,
    // laps
    &laps::membrane_reversed_lap::MembraneReversedLap,
    &laps::membrane_short_lap::MembraneShortLap,
    &laps::head_flashing_over_membrane::HeadFlashingOverMembrane,
    &laps::head_wrong_arrangement::HeadWrongArrangement,
    &laps::sill_no_pan::SillNoPan,
    &laps::sill_sealed_outside::SillSealedOutside,
    &laps::jamb_under_sill::JambUnderSill,
    &laps::head_sealed::HeadSealed,
    &laps::membrane_behind_base_flashing::MembraneBehindBaseFlashing,
    &laps::transition_no_flashing::TransitionNoFlashing,
    // metals
    &metals::metal_pair::MetalPair,
    &metals::metal_runoff::MetalRunoff,
    &metals::fastener_wrong_finish::FastenerWrongFinish,
    &metals::fastener_in_acid_wood::FastenerInAcidWood,
    // movement
    &movement::joint_too_tight::JointTooTight,
    &movement::trim_lap_opens::TrimLapOpens,
    &movement::trim_fixed_twice::TrimFixedTwice,
    &movement::board_lap_opens::BoardLapOpens,
    &movement::board_fixed_twice::BoardFixedTwice,
    &movement::floor_shrinkage_no_gap::FloorShrinkageNoGap,
    &movement::flashing_slope_lost::FlashingSlopeLost,
    &movement::mitre_opens::MitreOpens,
    &movement::board_pinned_twice::BoardPinnedTwice,
    &movement::sheet_flat_face::SheetFlatFace,
    &movement::part_bridges_movement::PartBridgesMovement,
    &movement::board_tight_joint::BoardTightJoint,
    // fastening
    &fastening::fasten_missing::FastenMissing,
    &fastening::fastener_misses::FastenerMisses,
    &fastening::fastener_no_base::FastenerNoBase,
    &fastening::fastener_too_short::FastenerTooShort,
    &fastening::furring_thin_for_nails::FurringThinForNails,
    &fastening::furring_splits::FurringSplits,
    &fastening::furring_span_too_long::FurringSpanTooLong,
    &fastening::fastening_too_sparse_for_wind::FasteningTooSparseForWind,
    &fastening::screws_overloaded_through_insulation::ScrewsOverloadedThroughInsulation,
    &fastening::load_on_furring_only::LoadOnFurringOnly,
    &fastening::bracket_on_soft_layer::BracketOnSoftLayer,
    &fastening::joint_off_support::JointOffSupport,
    &fastening::fastener_near_edge::FastenerNearEdge,
    &fastening::starter_loose::StarterLoose,
    // fire
    &fire::fire_gap_too_deep::FireGapTooDeep,
    &fire::ember_mesh::EmberMesh,
    // order
    &order::order_cycle::OrderCycle,
    &order::section_no_dry_in::SectionNoDryIn,
    &order::section_off_course_line::SectionOffCourseLine,
    &order::section_out_of_reach::SectionOutOfReach,
    &order::section_left_out::SectionLeftOut,
    // service
    &service::hose_bib_seat_in_cold::HoseBibSeatInCold,
    &service::service_no_removal::ServiceNoRemoval,
    // setting_out
    &setting_out::face_mixed_datum::FaceMixedDatum,
    &setting_out::course_sliver::CourseSliver,
    &setting_out::course_corner::CourseCorner,
    &setting_out::trim_too_shallow::TrimTooShallow,
    &setting_out::trim_longer_than_stock::TrimLongerThanStock,
    &setting_out::furring_none_at_edge::FurringNoneAtEdge,
    &setting_out::joint_repeats::JointRepeats,
    &setting_out::hole_near_mitre::HoleNearMitre,
    &setting_out::notch_sliver::NotchSliver,
];

/// A rule by id or by its number in the catalogue.
pub fn rule(name: &str) -> Option<&'static dyn Rule> {
    RULES.iter().copied().find(|rule| {
        let meta = rule.meta();
        meta.id == name || (!meta.catalogue.is_empty() && meta.catalogue.eq_ignore_ascii_case(name))
    })
}
