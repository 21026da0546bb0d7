//! Worked numbers of a weighing: the height of the centre of gravity, and the cross weight.

use project::model::Car;

use super::{Weighed, Weight};
use crate::estimate::Estimate;
use crate::explain::{Term, Worked};
use crate::present::{Shown, shown};
use crate::quantity::{About, Scale};

/// The results of a weighing that can be explained.
pub const EXPLAINED: [Weight; 2] = [Weight::Height, Weight::Cross];

/// What there is to say about one of [`EXPLAINED`].
pub fn about_weight(weight: Weight) -> Option<About> {
    match weight {
        Weight::Height => Some(About {
            title: "height of the centre of gravity",
            definition: "height of the centre of gravity above the ground at ride height, ready to run",
            formula: "h = r + (dN/W) L / tan(tilt) with equal radii and the suspension locked; unequal radii, squash and \
                      free springs enter by moments about the low wheel centre; then h = sum(m h)/sum(m) over the ledger",
            source: "balance of moments of the tilted car (W. Milliken & D. Milliken, Race Car Vehicle Dynamics, 1995, \
                     ch. 18; from memory); sums of moments, any statics text",
            does: "Sets the load transfer of a stop and of a turn, m a h / L and m a h / t, and divides every \
                   anti-feature: they go with 1/h",
            does_not: "It says nothing of where the mass sits along or across the car, nor of inertia; it is the least \
                       sure figure of a car, and a small lift makes it useless",
        }),
        Weight::Cross => Some(About {
            title: "cross weight",
            definition: "share of the car's weight on front right and rear left together, as found on the level",
            formula: "(FR + RL)/W",
            source: "definition of the trade",
            does: "Says how the springs share the load over the diagonals, which the centre of gravity leaves open: half \
                   on each makes left and right turns alike",
            does_not: "It moves no mass: front, left and total stay what they are, whatever the perches do. It says \
                       nothing of a frame that twists",
        }),
        _ => None,
    }
}

/// Works one of [`EXPLAINED`] out with the car's own figures; `None` for the others, and where it is not known.
pub fn explain_weight(car: &Car, weighed: &Weighed, weight: Weight) -> Option<Worked> {
    let about = about_weight(weight)?;
    let ready = weighed.ready()?;
    let weighing = weighed.states.iter().find(|state| state.name == "as weighed")?;
    let result = if weight == Weight::Cross { weighing.found(weight)? } else { ready.after(weight)? }.clone();
    let units = &car.units;
    let print = |e: &Estimate, scale: Scale| shown(e, scale, units).text();
    let exact = |value: f64, scale| print(&Estimate { value, contributions: Vec::new() }, scale);
    let found = |w: Weight| weighing.found(w).map_or_else(|| "not known".into(), |e| print(e, w.scale()));
    let term = |symbol: &str, meaning: &str, value: String| Term {
        symbol: symbol.into(),
        meaning: meaning.into(),
        value,
    };
    let (terms, substituted, remarks) = if weight == Weight::Cross {
        let terms = vec![
            term("FR", "front right scale", found(Weight::FrontRight)),
            term("RL", "rear left scale", found(Weight::RearLeft)),
            term("W", "all four scales", found(Weight::Mass)),
        ];
        let of = |w| weighing.found(w).map_or(f64::NAN, |e| e.value);
        let sum = exact(of(Weight::FrontRight) + of(Weight::RearLeft), Scale::Mass);
        (
            terms,
            format!("{sum} / {} = {}", exact(of(Weight::Mass), Scale::Mass), print(&result, Scale::Percent)),
            Vec::new(),
        )
    } else {
        let mut terms = vec![term("W", "all four scales", found(Weight::Mass))];
        match &weighed.raised {
            Some(raised) => terms.extend([
                term("dN", "moved onto the low end", exact(raised.moved, Scale::Mass)),
                term("tilt", "of the body", exact(raised.tilt, Scale::Angle)),
            ]),
            None => terms.push(term("h", "as stated: `cg-height` in `[car]`", found(weight))),
        }
        let words =
            format!("as weighed {}; {}: {}", found(weight), ready.name, print(&result, weight.scale()));
        (
            terms,
            words,
            weighed
                .notes
                .iter()
                .filter(|n| n.starts_with("Raised") || n.starts_with("Height"))
                .cloned()
                .collect(),
        )
    };
    let shown: Shown = shown(&result, weight.scale(), units);
    let doubts = weighed.sources_of_doubt(&result).into_iter().take(5);
    Some(Worked {
        about,
        terms,
        substituted,
        sources_of_doubt: doubts.map(|(name, share)| (name.to_string(), share)).collect(),
        shown: Some(shown),
        result: Some(result),
        remarks,
    })
}
