//! Fifty crank-rockers turned through a whole revolution, against Freudenstein's equation (F. Freudenstein,
//! Approximate synthesis of four-bar linkages, Trans. ASME 77 (1955); remembered, and checked by loop closure
//! in the script).

use linkage::{Frame, Linkage, Solver};
use nalgebra::Vector3;

use crate::support::{number, on, planar, section};

/// The data carry 12 decimals of a metre and 9 of a degree.
const POSITION: f64 = 2e-12;
const ANGLE: f64 = 2e-9;

#[test]
fn rocker_angles_and_rates_agree_with_freudenstein() {
    let data = section("four-bar");
    let cases = data["cases"].as_array().unwrap();
    assert_eq!(cases.len(), 50);
    for (n, case) in cases.iter().enumerate() {
        let positions = case["positions"].as_array().unwrap();
        let (start, axis) = (&positions[0], Vector3::z());
        let far = Vector3::new(number(&case["ground"]), 0.0, 0.0);
        let (pin, end) = (planar(&start["coupler_in"]), planar(&start["coupler_out"]));
        let mut linkage = Linkage::new();
        let crank = linkage.add_body("crank", Vector3::zeros());
        let rocker = linkage.add_body("rocker", far);
        let turn = linkage.add_input();
        linkage.hinge("crank pivot", Frame::Ground, crank, Vector3::zeros(), axis).unwrap();
        linkage.hinge("rocker pivot", Frame::Ground, rocker, far, far + axis).unwrap();
        linkage.rod("coupler", on(crank, pin), on(rocker, end)).unwrap();
        linkage.drive_turn("motor", crank, axis, turn).unwrap();
        let mut solver = Solver::new(&linkage);
        for position in positions {
            solver.go_to(&[number(&position["in_deg"]).to_radians()]).unwrap_or_else(|e| panic!("{n}: {e}"));
            solver.differentiate(&[1.0]).unwrap();
            for (frame, design, name) in [(crank, pin, "coupler_in"), (rocker, end, "coupler_out")] {
                let off = (solver.track(&on(frame, design)).p - planar(&position[name])).amax();
                assert!(off < POSITION, "{n}: {name} off by {off}");
            }
            let arm = solver.track(&on(rocker, end)).p - far;
            let turned = (arm.y.atan2(arm.x).to_degrees() - number(&position["out_deg"])).rem_euclid(360.0);
            assert!(turned.min(360.0 - turned) < ANGLE, "{n}: rocker off by {turned} deg");
            let rate = solver.motion().twists[1].w.z - number(&position["dout_din"]);
            assert!(rate.abs() < 1e-11, "{n}: rate off by {rate}");
        }
    }
}
