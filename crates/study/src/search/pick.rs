//! Choosing one place for each wish so that all keep their distance.

use nalgebra::Vector2;

/// A place that a wish may take, and what it costs.
#[derive(Clone, Copy, Debug)]
pub(super) struct Choice {
    pub at: Vector2<f64>,
    pub cost: f64,
}

/// Nodes of the search tree that may be opened: a bound on time, beyond which the best set so far is taken.
const MOST_NODES: usize = 400_000;

/// One choice for each wish, pairwise at least `spacing` apart, of least total cost: depth-first branch and
/// bound, the wish with the fewest choices first and each wish's cheapest choice first. `None` if there is no
/// such set (or, with very many wishes, none was found in the nodes allowed).
pub(super) fn pick(choices: &[Vec<Choice>], spacing: f64) -> Option<Vec<usize>> {
    let mut order: Vec<usize> = (0..choices.len()).collect();
    order.sort_by_key(|i| choices[*i].len());
    let ranked: Vec<Vec<usize>> = order
        .iter()
        .map(|i| {
            let mut ranks: Vec<usize> = (0..choices[*i].len()).collect();
            ranks.sort_by(|a, b| choices[*i][*a].cost.total_cmp(&choices[*i][*b].cost));
            ranks
        })
        .collect();
    // Least cost still to come from each depth on: what makes the bound sharp.
    let mut to_come = vec![0.0; order.len() + 1];
    for depth in (0..order.len()).rev() {
        let cheapest = ranked[depth].first().map_or(f64::INFINITY, |c| choices[order[depth]][*c].cost);
        to_come[depth] = to_come[depth + 1] + cheapest;
    }
    let mut search =
        Search { choices, order: &order, ranked: &ranked, to_come, spacing, nodes: 0, best: None };
    search.descend(&mut Vec::new(), 0.0);
    let (_, chosen) = search.best?;
    let mut by_wish = vec![0; choices.len()];
    for (depth, choice) in chosen.into_iter().enumerate() {
        by_wish[order[depth]] = choice;
    }
    Some(by_wish)
}

struct Search<'a> {
    choices: &'a [Vec<Choice>],
    order: &'a [usize],
    ranked: &'a [Vec<usize>],
    to_come: Vec<f64>,
    spacing: f64,
    nodes: usize,
    best: Option<(f64, Vec<usize>)>,
}

impl Search<'_> {
    fn descend(&mut self, taken: &mut Vec<usize>, cost: f64) {
        let depth = taken.len();
        if depth == self.order.len() {
            if self.best.as_ref().is_none_or(|(b, _)| cost < *b) {
                self.best = Some((cost, taken.clone()));
            }
            return;
        }
        let own = &self.choices[self.order[depth]];
        for candidate in &self.ranked[depth] {
            self.nodes += 1;
            if self.nodes > MOST_NODES {
                return;
            }
            let choice = own[*candidate];
            let bound = cost + choice.cost + self.to_come[depth + 1];
            if self.best.as_ref().is_some_and(|(b, _)| bound >= *b) {
                return;
            }
            let clear = taken
                .iter()
                .enumerate()
                .all(|(d, t)| (self.choices[self.order[d]][*t].at - choice.at).norm() >= self.spacing - 1e-9);
            if clear {
                taken.push(*candidate);
                self.descend(taken, cost + choice.cost);
                taken.pop();
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn row(points: &[(f64, f64)]) -> Vec<Choice> {
        points.iter().map(|(x, cost)| Choice { at: Vector2::new(*x, 0.0), cost: *cost }).collect()
    }

    #[test]
    fn takes_the_cheapest_set_that_keeps_its_distance() {
        // The two cheapest are too near: the better of the two ways out costs 1, the other 5.
        let choices = [row(&[(0.0, 0.0), (-3.0, 5.0)]), row(&[(1.0, 0.0), (4.0, 1.0)])];
        assert_eq!(pick(&choices, 2.0), Some(vec![0, 1]));
        assert_eq!(pick(&choices, 20.0), None);
    }
}
