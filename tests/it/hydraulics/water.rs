//! Water and sea water against IAPWS, TEOS-10 and others.

use super::units::{ATM, FT, celsius};
use crate::verification::{Case, checks};
use fallwright::hydraulics::water::Water;
use proptest::prelude::*;

fn water(given: &Case) -> Water {
    Water::at(given.n("temperature_c"), given.n("salinity_g_kg")).unwrap()
}

fn density(given: &Case) -> f64 {
    water(given).density_kg_m3
}

fn viscosity_mpa_s(given: &Case) -> f64 {
    let water = water(given);
    1e3 * water.kinematic_viscosity_m2_s * water.density_kg_m3
}

fn vapour(given: &Case) -> f64 {
    water(given).vapour_pressure_pa
}

checks! {
    val_density_00: "WP-RHO-00" => density;
    val_viscosity_00: "WP-MU-00" => viscosity_mpa_s;
    val_vapour_pressure_00: "WP-PV-00" => vapour;
    val_viscosity_05: "WP-MU-05" => viscosity_mpa_s;
    val_vapour_pressure_05: "WP-PV-05" => vapour;
    val_density_10: "WP-RHO-10" => density;
    val_viscosity_10: "WP-MU-10" => viscosity_mpa_s;
    val_vapour_pressure_10: "WP-PV-10" => vapour;
    val_density_15: "WP-RHO-15" => density;
    val_vapour_pressure_15: "WP-PV-15" => vapour;
    val_density_20: "WP-RHO-20" => density;
    val_viscosity_20: "WP-MU-20" => viscosity_mpa_s;
    val_vapour_pressure_20: "WP-PV-20" => vapour;
    val_density_25: "WP-RHO-25" => density;
    val_viscosity_25: "WP-MU-25" => viscosity_mpa_s;
    val_vapour_pressure_25: "WP-PV-25" => vapour;
    val_vapour_pressure_30: "WP-PV-30" => vapour;
    val_density_35: "WP-RHO-35" => density;
    val_viscosity_35: "WP-MU-35" => viscosity_mpa_s;
    val_vapour_pressure_35: "WP-PV-35" => vapour;
    val_viscosity_40: "WP-MU-40" => viscosity_mpa_s;
    val_vapour_pressure_40: "WP-PV-40" => vapour;
    val_salt_density_20: "WP-SEA-20" => density;
    val_salt_density_30: "WP-SEA-30" => density;
    val_library_density_2: "CW-RHO-2" => density;
    val_library_viscosity_2: "CW-MU-2" => viscosity_mpa_s;
    val_library_vapour_pressure_2: "CW-PV-2" => vapour;
    val_library_density_12: "CW-RHO-12" => density;
    val_library_viscosity_12: "CW-MU-12" => viscosity_mpa_s;
    val_library_vapour_pressure_12: "CW-PV-12" => vapour;
    val_library_density_18: "CW-RHO-18" => density;
    val_library_viscosity_18: "CW-MU-18" => viscosity_mpa_s;
    val_library_vapour_pressure_18: "CW-PV-18" => vapour;
    val_library_density_28: "CW-RHO-28" => density;
    val_library_viscosity_28: "CW-MU-28" => viscosity_mpa_s;
    val_library_vapour_pressure_28: "CW-PV-28" => vapour;
    val_library_density_38: "CW-RHO-38" => density;
    val_library_viscosity_38: "CW-MU-38" => viscosity_mpa_s;
    val_library_vapour_pressure_38: "CW-PV-38" => vapour;
    val_library_salt_density_5: "CW-SEA-5" => density;
    val_library_salt_density_15: "CW-SEA-15" => density;
    val_library_salt_density_25: "CW-SEA-25" => density;
    val_textbook_viscosity_55f: "WP-MAURER-NU" => |given| {
        let water = Water::at(celsius(given.n("temperature_f")), 0.0).unwrap();
        water.kinematic_viscosity_m2_s / (FT * FT)
    };
    val_sea_vapour_pressure: "WP-SEA-PV" => |given| vapour(given) / ATM;
    val_sea_viscosity: "WP-SEA-NU" => |given| water(given).kinematic_viscosity_m2_s;
}

#[test]
fn prop_outside_the_range_there_is_no_answer() {
    for (temperature, salinity) in [
        (-0.1, 0.0),
        (40.1, 0.0),
        (20.0, -0.1),
        (20.0, 42.1),
        (f64::NAN, 0.0),
        (20.0, f64::NAN),
    ] {
        assert!(Water::at(temperature, salinity).is_none());
    }
    assert!(Water::at(0.0, 0.0).is_some() && Water::at(40.0, 42.0).is_some());
}

proptest! {
    #[test]
    fn prop_warmer_is_thinner_and_salt_is_heavier(t in 0.0_f64..39.0, s in 0.0_f64..41.0) {
        let (cool, warm) = (Water::at(t, s).unwrap(), Water::at(t + 1.0, s).unwrap());
        let salty = Water::at(t, s + 1.0).unwrap();
        prop_assert!(warm.kinematic_viscosity_m2_s < cool.kinematic_viscosity_m2_s);
        prop_assert!(warm.vapour_pressure_pa > cool.vapour_pressure_pa);
        prop_assert!(salty.density_kg_m3 > cool.density_kg_m3);
        prop_assert!(salty.vapour_pressure_pa < cool.vapour_pressure_pa);
    }
}
