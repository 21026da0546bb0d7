//! What must hold for any corner and any axle: derivatives against differences and against building anew,
//! mirror images, virtual work, roll both ways.

#![expect(clippy::panic, clippy::unwrap_used, reason = "a test may stop where it cannot go on")]

mod axle;
mod derivatives;
mod mirror;
mod sensitivity;
mod steering;
#[path = "../outside/support.rs"]
mod support;
mod work;

use serde_json::Value;

/// Every kind that the reference data have.
const KINDS: [&str; 6] =
    ["five-link", "double-wishbone", "strut", "trailing-blade", "semi-trailing-arm", "links"];

/// Some cases of a kind.
fn cases(kind: &str, count: usize) -> Vec<Value> {
    let data = support::load(&format!("{kind}.json"));
    data["cases"].as_array().unwrap().iter().take(count).cloned().collect()
}
