//! Catalogue entries against figures printed elsewhere.
//!
//! Most of the data was typed from the same tables: there it is proved that nothing was lost, mixed up or rounded
//! away on the way, and nothing about the world; those tests have no `val_` in their names.
//! The addresses at which tables were read are in `tests/reference/catalogue.csv`.

use crate::verification::Kind;
use fallwright::catalogue::Catalogue;

/// One check against an outside figure.
pub struct Row {
    pub id: &'static str,
    pub group: &'static str,
    pub what: &'static str,
    pub expected: f64,
    pub tolerance: Tolerance,
    pub unit: &'static str,
    pub source: &'static str,
    pub got: fn() -> f64,
}

#[derive(Clone, Copy, Debug)]
pub enum Tolerance {
    Relative(f64),
    Absolute(f64),
}
use Tolerance::{Absolute, Relative};

const BORE: &str = "5 dimensions";
const MINOR: &str = "4 minor";
const FT_M: f64 = 0.3048;

const D1785: &str = "ASTM D1785";
const D1785_AVERAGE: &str = "chart of average bores of pipe to ASTM D1785";
const DIN_8062: &str = "DIN 8062";
const EN_1452: &str = "EN ISO 1452-2, from memory; 110/26 = 4.23 mm";
const EN_1401: &str = "EN 1401-1";
const EN_12201: &str = "EN 12201-2";
const D3034: &str = "ASTM D3034";
const CRANE: &str = "Crane TP-410, computed with fluids 1.3.1";
const CRANE_73: &str =
    "Crane TP-410M example 7-3, printed answer quoted in the documentation of fluids";
const LENGTHS: &str = "table of equivalent lengths of PVC fittings";
const LENGTHS_2: &str = "table of equivalent lengths of schedule 40 PVC fittings";
const MUNSON: &str = "Munson, Young and Okiishi, table 8.2, from memory";
const IRC: &str = "2018 IRC table A.2.2";
const RP_1193: &str = "ASHRAE RP-1193 range 0.91 to 1.00, from memory, not verified";

/// What stands behind a figure: a library, a printed answer, or the same table that the catalogue was typed from.
pub fn kind(source: &str) -> Kind {
    match source {
        CRANE => Kind::Library,
        CRANE_73 => Kind::Read,
        _ => Kind::Transcription,
    }
}

/// Bore in millimetres.
fn bore(family: &str, size: &str) -> f64 {
    let pipe = Catalogue::builtin().pipe(family, size);
    pipe.map_or(f64::NAN, |pipe| pipe.bore_m() * 1000.0)
}

/// Default K where only fT matters.
fn crane(kind: &str, ft: f64) -> f64 {
    let fitting = Catalogue::builtin().fitting(kind);
    fitting
        .and_then(|f| f.k(f64::NAN, ft, f64::NAN, None))
        .unwrap_or(f64::NAN)
}

fn chosen(kind: &str, source: &str, bore_m: f64, darcy_f: f64) -> f64 {
    let fitting = Catalogue::builtin().fitting(kind);
    fitting
        .and_then(|f| f.k(bore_m, f64::NAN, darcy_f, Some(source)))
        .unwrap_or(f64::NAN)
}

/// Equivalent length in feet of pipe of schedule 40 bore, whatever the friction factor.
fn length_ft(kind: &str, source: &str, size: &str) -> f64 {
    let bore_m = bore("pvc-sch40-minimum", size) / 1000.0;
    let darcy_f = 0.0217;
    chosen(kind, source, bore_m, darcy_f) * bore_m / darcy_f / FT_M
}

fn valve(kind: &str, opening: f64, ft: f64) -> f64 {
    let valve = Catalogue::builtin().valve(kind);
    valve.and_then(|v| v.k(opening, ft)).unwrap_or(f64::NAN)
}

macro_rules! rows {
    ($($test:ident: $id:literal, $group:expr, $what:literal, $expected:literal, $tolerance:expr, $unit:literal, $source:expr, $got:expr;)*) => {
        /// Every check of this file, for a table of all checks.
        pub fn rows() -> Vec<Row> {
            vec![$(Row {
                id: $id, group: $group, what: $what, expected: $expected, tolerance: $tolerance,
                unit: $unit, source: $source, got: $got,
            }),*]
        }
        $(#[test] fn $test() { check($id); })*
    };
}

rows! {
    bore_sch40_minimum_half_inch: "PD-S40-MIN-1_2", BORE, "1/2 in schedule 40, minimum wall", 15.80, Absolute(0.05), "mm", D1785, || bore("pvc-sch40-minimum", "1/2 in");
    bore_sch40_minimum_1_inch: "PD-S40-MIN-1", BORE, "1 in schedule 40, minimum wall", 26.64, Absolute(0.05), "mm", D1785, || bore("pvc-sch40-minimum", "1 in");
    bore_sch40_minimum_2_inch: "PD-S40-MIN-2", BORE, "2 in schedule 40, minimum wall", 52.50, Absolute(0.05), "mm", D1785, || bore("pvc-sch40-minimum", "2 in");
    bore_sch40_minimum_4_inch: "PD-S40-MIN-4", BORE, "4 in schedule 40, minimum wall", 102.26, Absolute(0.05), "mm", D1785, || bore("pvc-sch40-minimum", "4 in");
    bore_sch40_minimum_6_inch: "PD-S40-MIN-6", BORE, "6 in schedule 40, minimum wall", 154.05, Absolute(0.05), "mm", D1785, || bore("pvc-sch40-minimum", "6 in");
    bore_sch40_average_half_inch: "PD-S40-AVG-1_2", BORE, "1/2 in schedule 40, average bore", 15.29, Absolute(0.05), "mm", D1785_AVERAGE, || bore("pvc-sch40-average", "1/2 in");
    bore_sch40_average_1_inch: "PD-S40-AVG-1", BORE, "1 in schedule 40, average bore", 26.14, Absolute(0.05), "mm", D1785_AVERAGE, || bore("pvc-sch40-average", "1 in");
    bore_sch40_average_2_inch: "PD-S40-AVG-2", BORE, "2 in schedule 40, average bore", 51.99, Absolute(0.05), "mm", D1785_AVERAGE, || bore("pvc-sch40-average", "2 in");
    bore_sch40_average_4_inch: "PD-S40-AVG-4", BORE, "4 in schedule 40, average bore", 101.55, Absolute(0.05), "mm", D1785_AVERAGE, || bore("pvc-sch40-average", "4 in");
    bore_sch40_average_6_inch: "PD-S40-AVG-6", BORE, "6 in schedule 40, average bore", 153.19, Absolute(0.05), "mm", D1785_AVERAGE, || bore("pvc-sch40-average", "6 in");
    bore_din_110_pn10: "PD-DIN-110-10", BORE, "d 110 PN 10, DIN 8062, wall 5.3", 99.4, Absolute(0.05), "mm", DIN_8062, || bore("pvcu-din8062-pn10", "110");
    bore_en_110_pn10: "PD-EN-110-10", BORE, "d 110 PN 10, EN ISO 1452-2, wall 4.2", 101.6, Absolute(0.05), "mm", EN_1452, || bore("pvcu-en1452-pn10", "110");
    bore_en_1401_110_sn4: "PD-EN1401-110", BORE, "d 110 drain SN 4, wall 3.2", 103.6, Absolute(0.05), "mm", EN_1401, || bore("pvcu-sewer-sn4", "110");
    bore_en_1401_110_sn8: "PD-EN1401-110-SN8", BORE, "d 110 drain SN 8, wall 3.2", 103.6, Absolute(0.05), "mm", EN_1401, || bore("pvcu-sewer-sn8", "110");
    bore_pe100_63_sdr17: "PD-PE-63-17", BORE, "PE 100 d 63 SDR 17, wall 3.8", 55.4, Absolute(0.05), "mm", EN_12201, || bore("pe100-sdr17", "63");
    bore_sewer_4_inch: "PD-D3034-4", BORE, "4 in sewer SDR 35", 100.97, Absolute(0.05), "mm", D3034, || bore("pvc-sewer-sdr35", "4 in");

    val_k_elbow_half_inch: "K-EL90-1_2", MINOR, "1/2 in standard 90° elbow, fT 0.0256", 0.767, Relative(0.01), "-", CRANE, || crane("elbow-90", 0.0256);
    val_k_elbow_2_inch: "K-EL90-2", MINOR, "2 in standard 90° elbow, fT 0.0188", 0.565, Relative(0.01), "-", CRANE, || crane("elbow-90", 0.0188);
    val_k_elbow_3_inch: "K-EL90-3", MINOR, "3 in standard 90° elbow, fT 0.0172", 0.516, Relative(0.01), "-", CRANE, || crane("elbow-90", 0.0172);
    val_k_elbow_45_2_inch: "K-EL45-2", MINOR, "2 in standard 45° elbow, fT 0.0188", 0.302, Relative(0.01), "-", CRANE, || crane("elbow-45", 0.0188);
    val_k_tee_run_4_inch: "K-TEERUN-4", MINOR, "4 in tee through the run, fT 0.0162", 0.324, Relative(0.01), "-", CRANE, || crane("tee-run", 0.0162);
    val_k_tee_branch_1_inch: "K-TEEBR-1", MINOR, "1 in tee through the branch, fT 0.0223", 1.335, Relative(0.01), "-", CRANE, || crane("tee-branch", 0.0223);
    val_k_entrance_sharp: "K-ENT-SHARP", MINOR, "sharp flush entrance", 0.5, Absolute(1e-12), "-", CRANE, || crane("entrance-sharp", f64::NAN);
    val_k_entrance_r04: "K-ENT-R0.04", MINOR, "entrance rounded 0.04 bore", 0.24, Absolute(1e-12), "-", CRANE, || crane("entrance-r04", f64::NAN);
    val_k_entrance_r10: "K-ENT-R0.1", MINOR, "entrance rounded 0.1 bore", 0.09, Absolute(1e-12), "-", CRANE, || crane("entrance-r10", f64::NAN);
    val_k_entrance_r15: "K-ENT-R0.15", MINOR, "entrance rounded 0.15 bore", 0.04, Absolute(1e-12), "-", CRANE, || crane("entrance-r15", f64::NAN);
    val_k_angle_valve: "K-ANGLE", MINOR, "100 mm angle valve, fT 0.0165", 2.475, Relative(0.002), "-", CRANE_73, || valve("angle", 1.0, 0.0165);
    val_k_ball_valve_2_inch: "K-BALL-2", MINOR, "2 in full-bore ball valve, fT 0.0188", 0.057, Absolute(0.0006), "-", CRANE, || valve("ball", 1.0, 0.0188);
    k_elbow_irc: "K-EL90-IRC", MINOR, "90° elbow, 30 bores, f 0.030", 0.90, Absolute(0.005), "-", IRC, || chosen("elbow-90", "irc-2018-a22", 0.05, 0.030);
    k_elbow_pvc_test: "K-EL90-PVC-2", MINOR, "2 in moulded PVC elbow, inside the tested range", 0.955, Absolute(0.045), "-", RP_1193, || chosen("elbow-90", "ashrae-rp-1193", 0.0525, 0.02);

    length_elbow_1_inch: "LE-EL90-1", MINOR, "1 in PVC 90° elbow, equivalent length", 2.5, Relative(0.001), "ft", LENGTHS, || length_ft("elbow-90", "pvc-length-table", "1 in");
    length_elbow_2_inch: "LE-EL90-2", MINOR, "2 in PVC 90° elbow, equivalent length", 5.7, Relative(0.001), "ft", LENGTHS, || length_ft("elbow-90", "pvc-length-table", "2 in");
    length_tee_1_inch: "LE-TEEBR-1", MINOR, "1 in PVC tee through the branch, equivalent length", 6.0, Relative(0.001), "ft", LENGTHS, || length_ft("tee-branch", "pvc-length-table", "1 in");
    length_tee_2_inch: "LE-TEEBR-2", MINOR, "2 in PVC tee through the branch, equivalent length", 12.0, Relative(0.001), "ft", LENGTHS, || length_ft("tee-branch", "pvc-length-table", "2 in");
    length_tee_4_inch: "LE-TEEBR-4", MINOR, "4 in PVC tee through the branch, equivalent length", 22.0, Relative(0.001), "ft", LENGTHS, || length_ft("tee-branch", "pvc-length-table", "4 in");
    length_tee_run_3_inch: "LE-TEERUN-3-B", MINOR, "3 in PVC tee through the run, second table", 6.3, Relative(0.001), "ft", LENGTHS_2, || length_ft("tee-run", "pvc-sch40-length-table", "3 in");

    gate_quarter_closed: "K-GATE-3_4", MINOR, "gate valve, a quarter closed", 0.26, Relative(1e-9), "-", MUNSON, || valve("gate", 0.75, 0.0188);
    gate_half_closed: "K-GATE-1_2", MINOR, "gate valve, half closed", 2.1, Relative(1e-9), "-", MUNSON, || valve("gate", 0.5, 0.0188);
    gate_three_quarters_closed: "K-GATE-1_4", MINOR, "gate valve, three quarters closed", 17.0, Relative(1e-9), "-", MUNSON, || valve("gate", 0.25, 0.0188);
    ball_third_closed: "K-BALL-2_3", MINOR, "ball valve, a third closed", 5.5, Relative(0.002), "-", MUNSON, || valve("ball", 2.0 / 3.0, 0.0188);
    ball_two_thirds_closed: "K-BALL-1_3", MINOR, "ball valve, two thirds closed", 210.0, Relative(0.002), "-", MUNSON, || valve("ball", 1.0 / 3.0, 0.0188);
}

fn check(id: &str) {
    let rows = rows();
    let row = rows
        .iter()
        .find(|row| row.id == id)
        .expect("the row is in the table");
    let got = (row.got)();
    let allowed = match row.tolerance {
        Relative(share) => share * row.expected.abs(),
        Absolute(amount) => amount,
    };
    let off = (got - row.expected).abs();
    assert!(
        off <= allowed,
        "{} {}: got {got} {unit}, expected {} {unit} within {:?} ({}, {})",
        row.group,
        row.what,
        row.expected,
        row.tolerance,
        row.id,
        row.source,
        unit = row.unit,
    );
}
