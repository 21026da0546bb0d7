//! The numbers that leave the program: JSON as docs/notation.md has it, CSV with the same numbers.

use serde_json::Value;

use crate::run::{DEMOS, PLOVER, demo, file, good, json};

/// The same car in other units: coordinates differ by rounding, 1e-16 m, and so do positions.
const ROUNDING: f64 = 1e-9;

/// CSV of a sweep is rounded as the terminal shows it: half of the last of at least one digit in a thousand of
/// the largest figures there; checked column by column.
const HALF: f64 = 0.5 + 1e-9;

#[track_caller]
fn number(value: &Value) -> f64 {
    value.as_f64().unwrap_or_else(|| panic!("{value} is a number"))
}

/// Two JSON values alike, numbers within rounding.
#[track_caller]
fn alike(a: &Value, b: &Value, path: &str) {
    match (a, b) {
        (Value::Number(_), Value::Number(_)) => {
            let (a, b) = (number(a), number(b));
            assert!((a - b).abs() <= ROUNDING * (1.0 + a.abs()), "{path}: {a} and {b}");
        }
        (Value::Array(a), Value::Array(b)) => {
            assert_eq!(a.len(), b.len(), "{path}");
            for (i, (a, b)) in a.iter().zip(b).enumerate() {
                alike(a, b, &format!("{path}[{i}]"));
            }
        }
        (Value::Object(a), Value::Object(b)) => {
            assert!(a.keys().eq(b.keys()), "{path}");
            for (key, value) in a {
                alike(value, &b[key], &format!("{path}.{key}"));
            }
        }
        (a, b) => assert_eq!(a, b, "{path}"),
    }
}

/// Keys of a station that scripts rely on; their units are in docs/notation.md, "JSON".
const STATION: [&str; 11] = [
    "travel_m",
    "toe_deg",
    "camber_deg",
    "toe_gain_deg_per_m",
    "camber_gain_deg_per_m",
    "contact_dx_dz",
    "contact_dy_dz",
    "centre_dx_dz",
    "centre_dy_dz",
    "roll_centre_height_m",
    "half_track_gain",
];

#[track_caller]
fn check_sweep(car: &str, axle: &str) {
    let car = demo(car);
    let travel = if car.contains("wren") { "--travel=-60mm:60mm:20mm" } else { "--travel=-60:60:20" };
    let sweep = json(&["sweep", &car, "--axle", axle, travel, "--json"]);
    assert_eq!(sweep["schema"], "soapstone.sweep/1");
    assert_eq!(sweep["axle"], axle);
    let stations = sweep["stations"].as_array().expect("an array of stations");
    assert_eq!(stations.len(), 7);
    for (station, travel) in stations.iter().zip([-0.06, -0.04, -0.02, 0.0, 0.02, 0.04, 0.06]) {
        for key in STATION {
            assert!(number(&station[key]).is_finite(), "{key}");
        }
        assert!((number(&station["travel_m"]) - travel).abs() < ROUNDING);
        for key in ["wheel_centre_m", "contact_m"] {
            let point: Vec<f64> = station[key].as_array().expect("a point").iter().map(number).collect();
            assert_eq!(point.len(), 3);
            assert!(point[1] > 0.3 && point[1] < 1.2, "the left wheel, in metres: {point:?}");
            // ISO 8855 with its origin under the front axle: the rear wheels stand at negative x.
            assert!(if axle == "rear" { point[0] < -1.0 } else { point[0].abs() < 0.1 }, "{point:?}");
        }
        let rise = number(&station["wheel_centre_m"][2]) - number(&stations[3]["wheel_centre_m"][2]);
        assert!((rise - travel).abs() < ROUNDING, "travel is that of the wheel centre");
    }
    // Gains and slopes are derivatives of what is beside them: the middle of two differences.
    let fine = json(&["sweep", &car, "--axle", axle, "--travel=-0.1mm:0.1mm:0.1mm", "--json"]);
    let [a, b, c] = [0, 1, 2].map(|i| &fine["stations"][i]);
    for (gain, of, near) in
        [("toe_gain_deg_per_m", "toe_deg", 1e-4), ("camber_gain_deg_per_m", "camber_deg", 1e-4)]
    {
        let slope = (number(&c[of]) - number(&a[of])) / 2e-4;
        assert!((slope - number(&b[gain])).abs() < near * (1.0 + slope.abs()), "{gain}");
    }
    for (slope, axis) in [("centre_dx_dz", 0), ("centre_dy_dz", 1)] {
        let by_hand = (number(&c["wheel_centre_m"][axis]) - number(&a["wheel_centre_m"][axis])) / 2e-4;
        assert!((by_hand - number(&b[slope])).abs() < 1e-5, "{slope}");
    }
}

#[test]
fn a_sweep_is_as_documented() {
    check_sweep(PLOVER, "rear");
    check_sweep(PLOVER, "front");
    check_sweep("dunlin/car.toml", "rear");
    check_sweep("dunlin/car.toml", "front");
    check_sweep("wren/car.toml", "rear");
    check_sweep("plover/before.toml", "rear");
}

/// A five-link rear in a unit: the same points, each number divided by the unit.
fn in_unit(unit: &str, metres: f64) -> String {
    let n = |mm: f64| format!("{:?}", mm * 1e-3 / metres);
    let p = |x: f64, y: f64, z: f64| format!("[{}, {}, {}]", n(x), n(y), n(z));
    let link = |name: &str, a: (f64, f64, f64), b: (f64, f64, f64)| {
        format!("[rear.link.{name}]\nbody = {}\nupright = {}\n", p(a.0, a.1, a.2), p(b.0, b.1, b.2))
    };
    format!(
        "soapstone = 1\n[car]\nname = \"Pipit\"\ndriven = \"rear\"\nwheelbase = {}\ncg-height = \"{} ± {}\"\n[brakes]\nfront-share = 0.64\n\
         [units]\nlength = \"{unit}\"\n[survey]\nx = \"rearward from front axle\"\ny = \"left from centreline\"\n\
         z = \"up from ground\"\naccuracy = {}\n[rear]\nkind = \"five-link\"\n[rear.wheel]\ncentre = {}\n\
         loaded-radius = {}\ntoe = 0.1\ncamber = -1.0\n{}{}{}{}{}\
         [[rear.holes]]\nend = \"link.lower-fore.body\"\nname = \"A\"\nat = {}\n\
         [rear.plate.side]\nend = \"link.lower-fore.body\"\nbolt = \"12 mm\"\ncorners = [{}, {}, {}, {}]\n",
        n(2600.0),
        n(480.0),
        n(20.0),
        n(1.5),
        p(2600.0, 735.0, 305.0),
        n(305.0),
        link("lower-fore", (2100.0, 420.0, 255.0), (2462.0, 622.0, 215.0)),
        link("lower-aft", (2675.0, 300.0, 225.0), (2650.0, 675.0, 208.0)),
        link("upper-fore", (2400.0, 405.0, 443.0), (2562.0, 655.0, 452.0)),
        link("upper-aft", (2686.0, 354.0, 441.0), (2640.0, 648.0, 456.0)),
        link("toe", (2760.0, 300.0, 262.0), (2742.0, 690.0, 250.0)),
        p(2106.0, 420.0, 286.0),
        p(2040.0, 420.0, 225.0),
        p(2145.0, 420.0, 225.0),
        p(2145.0, 420.0, 345.0),
        p(2040.0, 420.0, 345.0)
    )
}

#[test]
fn json_is_the_same_whatever_the_units_of_the_file() {
    let commands: [(&[&str], &str); 4] = [
        (&["sweep", "--axle", "rear", "--json"], "--travel"),
        (&["choose", "--json"], "--travels"),
        (&["explain", "--json", "--at", "link.lower-fore.body=A", "anti-lift"], ""),
        (&["holes", "--want", "anti-lift=30,50", "--json"], ""),
    ];
    let metric = file("pipit-mm.toml", in_unit("mm", 1e-3));
    for (unit, metres) in [("in", 0.0254), ("m", 1.0), ("ft", 0.3048)] {
        let other = file(&format!("pipit-{unit}.toml"), in_unit(unit, metres));
        for (args, range) in commands {
            let ask = |car: &str, metres: f64| {
                let n = |mm: f64| format!("{:?}", mm * 1e-3 / metres);
                let travel = match range {
                    "--travel" => format!("--travel={}:{}:{}", n(-60.0), n(60.0), n(20.0)),
                    "--travels" => format!("--travels={},{}", n(-50.0), n(50.0)),
                    _ => String::new(),
                };
                let mut args = args.to_vec();
                args.push(car);
                if !travel.is_empty() {
                    args.push(&travel);
                }
                let mut value = json(&args);
                // Worked numbers are words in the reader's own units.
                for key in ["terms", "substituted", "remarks"] {
                    value.as_object_mut().unwrap().remove(key);
                }
                value
            };
            alike(&ask(&metric, 1e-3), &ask(&other, metres), &format!("{} in {unit}", args[0]));
        }
    }
}

#[test]
fn every_command_has_json_with_a_schema() {
    let car = demo(PLOVER);
    let bad = file("bad-for-json.toml", "soapstone = 1\n");
    for (args, schema) in [
        (vec!["choose", "--json"], "soapstone.choice/1"),
        (vec!["choose", &car, "--json", "--axle", "front"], "soapstone.choice/1"),
        (vec!["sweep", &car, "--json"], "soapstone.sweep/1"),
        (vec!["sweep", &car, "--json", "--roll=-2:2:1"], "soapstone.roll/1"),
        (vec!["holes", &car, "--json", "--want", "anti-lift=30,50,65"], "soapstone.holes/1"),
        (vec!["check", &car, "--json"], "soapstone.check/1"),
        (vec!["explain", "anti-lift", &car, "--json"], "soapstone.explain/1"),
        (vec!["explain", "--json"], "soapstone.quantities/1"),
        (vec!["new", "strut", "--json"], "soapstone.starter/1"),
    ] {
        assert_eq!(json(&args)["schema"], schema);
    }
    // A check that finds errors still prints its object.
    let done = crate::run::run(&["check", &bad, "--json"]);
    assert_eq!(done.code, Some(2));
    let value: Value = serde_json::from_str(&done.out).expect("one object");
    assert_eq!(value["usable"], false);
    assert!(number(&value["errors"]) >= 1.0);
    let first = &value["diagnostics"][0];
    assert!(first["message"].is_string() && first["severity"] == "error" && first["line"].is_number());
}

#[track_caller]
fn csv(args: &[&str]) -> (Vec<String>, Vec<Vec<String>>) {
    let text = good(args);
    let mut reader = csv::Reader::from_reader(text.as_bytes());
    let head = reader.headers().expect("a head").iter().map(String::from).collect();
    let rows = reader.records().map(|r| r.expect("a record").iter().map(String::from).collect()).collect();
    (head, rows)
}

#[test]
fn csv_of_the_choice_has_the_numbers_of_its_json() {
    let car = demo(PLOVER);
    let (head, rows) = csv(&["choose", &car, "--csv"]);
    let table = json(&["choose", &car, "--json"]);
    let columns = table["columns"].as_array().unwrap();
    let json_rows = table["rows"].as_array().unwrap();
    assert_eq!(head.len(), 1 + 2 * columns.len());
    assert_eq!(rows.len(), json_rows.len());
    for (row, json_row) in rows.iter().zip(json_rows) {
        assert_eq!(row[0], json_row["name"].as_str().unwrap());
        for (i, column) in columns.iter().enumerate() {
            // The CSV is in the reader's units: %, mm, per 25 mm; JSON is SI.
            let factor = match column["unit"].as_str().unwrap() {
                "1" => 100.0,
                "m" => 1000.0,
                "m/m" => 25.0,
                "deg/m" => 0.025,
                "deg" | "deg/deg" => 1.0,
                other => panic!("what is {other}?"),
            };
            let value = &json_row["values"][i];
            for (cell, key) in [(1 + 2 * i, "value"), (2 + 2 * i, "standard_uncertainty")] {
                let (own, theirs) = (row[cell].parse::<f64>().unwrap(), number(&value[key]) * factor);
                assert!(
                    (own - theirs).abs() <= ROUNDING * (1.0 + own.abs()),
                    "{}: {own}, {theirs}",
                    head[cell]
                );
            }
            assert!(number(&value["standard_uncertainty"]) > 0.0, "every value has a ±");
        }
    }
}

#[test]
fn csv_of_a_sweep_has_the_numbers_of_its_json() {
    let car = demo(PLOVER);
    let (head, rows) = csv(&["sweep", &car, "--travel=-40:40:20", "--csv"]);
    let sweep = json(&["sweep", &car, "--travel=-40:40:20", "--json"]);
    let stations = sweep["stations"].as_array().unwrap();
    assert_eq!(rows.len(), stations.len());
    for (name, key, factor) in [
        ("travel", "travel_m", 1e3),
        ("toe [", "toe_deg", 1.0),
        ("camber [", "camber_deg", 1.0),
        ("bump steer", "toe_gain_deg_per_m", 0.025),
        ("camber gain", "camber_gain_deg_per_m", 0.025),
        ("recession", "centre_dx_dz", -25.0),
        ("contact dx/dz", "contact_dx_dz", 1.0),
        ("roll centre", "roll_centre_height_m", 1e3),
    ] {
        let column =
            head.iter().position(|h| h.starts_with(name)).unwrap_or_else(|| panic!("{name} in {head:?}"));
        for (row, station) in rows.iter().zip(stations) {
            let cell = &row[column];
            let decimals = cell.split_once('.').map_or(0, |(_, d)| d.len());
            let (own, theirs) = (cell.parse::<f64>().unwrap(), number(&station[key]) * factor);
            let last = 10f64.powi(-i32::try_from(decimals).unwrap());
            assert!((own - theirs).abs() <= HALF * last, "{name}: {own} for {theirs}");
        }
    }
}

#[test]
fn csv_of_holes_has_the_numbers_of_its_json() {
    let args = ["holes", "--want", "anti-lift=35,50,65"];
    let (head, rows) = csv(&[&args[..], &["--csv"]].concat());
    let found = json(&[&args[..], &["--json"]].concat());
    let placed = found["placed"].as_array().unwrap();
    assert_eq!((rows.len(), placed.len()), (3, 3));
    let column = |name: &str| {
        head.iter().position(|h| h.starts_with(name)).unwrap_or_else(|| panic!("{name}: {head:?}"))
    };
    for (row, hole) in rows.iter().zip(placed) {
        let cell = |name: &str| row[column(name)].parse::<f64>().unwrap();
        let same = |a: f64, b: f64| assert!((a - b).abs() < 1e-6, "{a}, {b}");
        same(cell("anti-lift"), 100.0 * number(&hole["value"]));
        // The file's frame: rearward from the front axle.
        same(cell("x"), -1e3 * number(&hole["at_m"][0]));
        same(cell("y"), 1e3 * number(&hole["at_m"][1]));
        same(cell("z"), 1e3 * number(&hole["at_m"][2]));
        same(cell("link"), 1e3 * number(&hole["link_length_m"]));
        same(number(&hole["value"]), number(&hole["wish"]));
    }
}

#[test]
fn holes_and_setups_are_used_where_asked() {
    let car = demo(PLOVER);
    let at = |extra: &[&str]| {
        let mut args = vec!["sweep", &car, "--axle", "rear", "--travel=-20:20:20", "--json"];
        args.extend(extra);
        json(&args)["stations"].clone()
    };
    let (drawn, c) = (at(&[]), at(&["--at", "link.lower-fore.body=C"]));
    assert_ne!(drawn[1]["contact_dx_dz"], c[1]["contact_dx_dz"]);
    // The axle's name in front does no harm; a later hole for the same end replaces an earlier one.
    assert_eq!(c, at(&["--at", "rear.link.lower-fore.body=C"]));
    assert_eq!(c, at(&["--at", "link.lower-fore.body=B", "--at", "link.lower-fore.body=C"]));
    assert_eq!(drawn, at(&["--at", "link.lower-fore.body=A"]), "A is where the link is drawn");
    // A setup is its holes, and a hole given beside it wins.
    let text = std::fs::read_to_string(&car).unwrap();
    let setups: Vec<(&str, &str)> = text
        .split("[setup.")
        .skip(1)
        .map(|s| (s.split(']').next().unwrap(), s.split('"').nth(3).unwrap()))
        .collect();
    assert!(!setups.is_empty());
    for (setup, hole) in &setups {
        let of_setup = at(&["--setup", setup]);
        assert_eq!(of_setup, at(&["--at", &format!("link.lower-fore.body={hole}")]), "{setup} is {hole}");
    }
    assert_eq!(c, at(&["--setup", setups[0].0, "--at", "link.lower-fore.body=C"]));
    // The choice table tells the same as the sweep, row by row.
    let table = json(&["choose", &car, "--json"]);
    let lift =
        table["columns"].as_array().unwrap().iter().position(|c| c["quantity"] == "anti-lift").unwrap();
    for row in table["rows"].as_array().unwrap() {
        let hole = row["holes"][0]["name"].as_str();
        let stations = hole.map_or_else(|| at(&[]), |h| at(&["--at", &format!("link.lower-fore.body={h}")]));
        let by_hand = -0.36 * number(&stations[1]["contact_dx_dz"]) * 2.6 / 0.48;
        assert!((by_hand - number(&row["values"][lift]["value"])).abs() < ROUNDING);
    }
    // And so does the worked number.
    let worked = json(&["explain", "anti-lift", &car, "--at", "link.lower-fore.body=C", "--json"]);
    let by_hand = -0.36 * number(&c[1]["contact_dx_dz"]) * 2.6 / 0.48;
    assert!((by_hand - number(&worked["result"]["value"])).abs() < ROUNDING);
    let shares: f64 =
        worked["uncertainty_from"].as_array().unwrap().iter().map(|s| number(&s["share_of_variance"])).sum();
    assert!(0.3 < shares && shares <= 1.0 + ROUNDING, "shares of the variance: {shares}");
}

#[test]
fn a_sweep_that_cannot_go_on_ends_there_and_says_so() {
    let done = crate::run::run(&["sweep", "--travel=-800:800:100", "--json"]);
    assert_eq!(done.code, Some(0));
    let sweep: Value = serde_json::from_str(&done.out).unwrap();
    let stops = sweep["stops"].as_array().unwrap();
    assert_eq!(stops.len(), 2, "one each way");
    for stop in stops {
        let (asked, reached) = (number(&stop["asked"]), number(&stop["reached_travel_m"]));
        assert!(asked.signum() == reached.signum() && reached.abs() < asked.abs());
        let why = stop["why"].as_str().unwrap();
        assert!(why.contains("link."), "it names the link: {why}");
        assert!(!why.contains(" ball"), "as the file names it: {why}");
    }
    for station in sweep["stations"].as_array().unwrap() {
        assert!(number(&station["travel_m"]).abs() < 0.8 && number(&station["toe_deg"]).is_finite());
    }
    assert!(done.err.contains("stops"), "and on standard error: {}", done.err);
}

#[test]
fn a_roll_that_cannot_go_on_says_so_in_degrees() {
    let roll = json(&["sweep", &demo("dunlin/car.toml"), "--roll=-19:19:1", "--json"]);
    let stops = roll["stops"].as_array().unwrap();
    assert_eq!(stops.len(), 2, "one each way");
    for (stop, asked) in stops.iter().zip([16.0, -16.0]) {
        assert!((number(&stop["asked"]) - asked).abs() < ROUNDING, "{stop}");
    }
}

#[test]
fn the_demo_cars_are_free_of_mistakes() {
    for name in DEMOS {
        let check = json(&["check", &demo(name), "--json"]);
        assert_eq!(check["usable"], true, "{name}");
        assert_eq!((check["errors"].as_u64(), check["warnings"].as_u64()), (Some(0), Some(0)), "{name}");
        let choice = json(&["choose", &demo(name), "--json"]);
        for row in choice["rows"].as_array().unwrap() {
            assert_eq!(row["ruled_out"], false, "{name}");
            assert!(row["values"].as_array().unwrap().iter().all(|v| v["value"].is_number()), "{name}");
        }
    }
}
