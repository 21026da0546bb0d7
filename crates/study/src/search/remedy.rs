//! What would have to give for a wish that a plate cannot meet.

use super::{Field, Remedy, Sample};

/// A larger plate is told in whole steps of this [m], with half of one to spare: a bound that is met at one point
/// only is of no use to a person with a grinder.
const PLATE_STEP: f64 = 1e-3;

/// The single rules whose relaxation lets the wish be met, each with the least that it must give. `line` holds
/// the places that meet the wish, allowed or not.
pub(super) fn remedies(field: &Field<'_, '_>, line: &[Sample]) -> Vec<Remedy> {
    let mut list = Vec::new();
    // On the plate, but nearer to its edge than allowed; a hole must at least leave its own radius.
    if let Some(best) = line
        .iter()
        .filter(|s| field.length_holds(s) && s.margin > 0.5 * field.plate.bolt)
        .max_by(|a, b| a.margin.total_cmp(&b.margin))
    {
        list.push(Remedy::Edge(best.margin / field.plate.bolt));
    }
    if let Some(best) =
        line.iter().filter(|s| field.length_holds(s)).max_by(|a, b| a.margin.total_cmp(&b.margin))
    {
        let more = field.plate.edge * field.plate.bolt - best.margin;
        let more = (more / PLATE_STEP + 0.5).ceil() * PLATE_STEP;
        list.push(Remedy::LargerPlate(more, field.frame.place(&best.at)));
    }
    if let Some((least, most)) = field.plate.link_length {
        let outside = |s: &Sample| s.length.map_or(f64::INFINITY, |l| (least - l).max(l - most));
        if let Some(best) =
            line.iter().filter(|s| field.edge_holds(s)).min_by(|a, b| outside(a).total_cmp(&outside(b)))
            && let Some(length) = best.length
        {
            list.push(Remedy::LinkLength(length));
        }
    }
    list
}
