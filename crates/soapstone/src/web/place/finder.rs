//! The hole finder: where to drill for wanted values.

use maud::{Markup, html};
use project::edit::{At, Edit};
use study::{Quantity, Subject, find_holes, shown};
use units::{Dimension, show};

use super::stand::Stand;
use crate::cli::holes::{Doubt, in_survey, plate, unmet_words, wishes};
use crate::web::App;
use crate::web::trial::Move;

/// The form and what it found.
pub(crate) fn part(app: &App, stand: &Stand<'_>) -> Markup {
    let Some(axle) = stand.axle().filter(|a| !a.plates.is_empty()) else {
        return html! { section.finder id="part-finder" {} };
    };
    let end = stand.shown.axle;
    let (of, values) = stand.shown.want.as_deref().and_then(|w| w.split_once('=')).unwrap_or(("", ""));
    let mut state = stand.shown.clone();
    state.want = None;
    let quantities: Vec<Quantity> = Quantity::TABLE
        .iter()
        .copied()
        .filter(|q| stand.choice.is_some_and(|r| r.columns.iter().any(|c| c.quantity == *q)))
        .collect();
    html! {
        section.finder id="part-finder" {
            h2 { "Where to drill for a wanted value" }
            p.small { "On the plate " (axle.plates[0].name) ", keeping its hole spacing, edge distance and link length." }
            form method="get" action="/place" data-state="" {
                @for (name, value) in state.pairs() { input type="hidden" name=(name) value=(value); }
                label { "I want "
                    select name="want-of" {
                        @for q in quantities {
                            @let key = q.key(end.into());
                            option value=(key) selected[key == of] { (key.replace('-', " ")) " [" (q.scale().unit(&stand.base.units)) "]" }
                        }
                    }
                }
                label { " of " input name="want" value=(values) size="12" placeholder="30, 50, 70" required; }
                button { "Find holes" }
            }
            @if let Some(want) = &stand.shown.want { (found(app, stand, want)) }
        }
    }
}

fn found(app: &App, stand: &Stand<'_>, want: &str) -> Markup {
    match search(app, stand, want) {
        Ok(found) => found,
        Err(why) => html! { p.wrong role="alert" { (why) } },
    }
}

fn search(app: &App, stand: &Stand<'_>, want: &str) -> Result<Markup, String> {
    let end = stand.shown.axle;
    let subject = Subject::new(&stand.car, end).map_err(|e| e.to_string())?;
    let axle = subject.axle();
    let plate = plate(axle, axle.plates.first().map(|p| p.name.as_str())).map_err(|e| e.words())?;
    let wishes = wishes(&subject, want).map_err(|e| e.words())?;
    let quantity = wishes.first().ok_or("wish for a value")?.quantity;
    let found = find_holes(&subject, plate, &wishes).map_err(|e| e.to_string())?;
    let doubt = Doubt::of(&subject, plate, &found, quantity).map_err(|e| e.words())?;
    let units = &stand.base.units;
    let placed = found.instead.as_ref().unwrap_or(&found.placed);
    let scale = quantity.scale();
    let key = axle.scheme.points.get(plate.point).ok_or("the plate is for no point")?.clone();
    let length = |v: f64| show::number(v, Dimension::Length, units, study::Scale::Length.decimals(units));
    let unit = units.symbol(Dimension::Length);
    let free: Vec<String> = free_names(axle, plate.point, placed.len());
    Ok(html! {
        @if found.instead.is_some() {
            p.wrong { "These wishes cannot be met together: the holes would overlap. The nearest set that keeps the spacing:" }
        }
        @if !placed.is_empty() {
            table {
                thead { tr {
                    th scope="col" { "hole" }
                    th scope="col" { (quantity.key(end.into()).replace('-', " ")) " " span.unit { (scale.unit(units)) } }
                    th scope="col" { "x " span.unit { (unit) } } th scope="col" { "y " span.unit { (unit) } }
                    th scope="col" { "z " span.unit { (unit) } }
                    th scope="col" { "link " span.unit { (unit) } } th scope="col" { "to edge " span.unit { (unit) } }
                    th scope="col" { "" }
                } }
                tbody {
                    @for (i, (p, name)) in placed.iter().zip(&free).enumerate() {
                        @let at = in_survey(&stand.car, axle, &p.at);
                        tr {
                            th scope="row" { (name) }
                            td {
                                @match doubt.values.get(i).and_then(Option::as_ref) {
                                    Some(e) => {
                                        @let s = shown(e, scale, units);
                                        b { (s.number) } @if let Some(u) = &s.uncertainty { span.pm { " ±\u{a0}" (u) } }
                                    }
                                    None => b { (format!("{:.*}", scale.decimals(units), p.value * scale.factor(units))) },
                                }
                            }
                            td { (length(at.x)) } td { (length(at.y)) } td { (length(at.z)) }
                            td { @if let Some(l) = p.link_length { (length(l)) } @else { "–" } }
                            td { (length(p.margin)) }
                            td.word {
                                a.button href=(stand.shown.link(|s| s.trial.put(Move { what: key.clone(), to: p.at }))) { "Try" }
                                " "
                                (add(app, stand, &key, name, p.at.into()))
                            }
                        }
                    }
                }
            }
        }
        @for unmet in &found.unmet {
            p { (unmet_words(&subject, plate, &quantity.key(end.into()).replace('-', " "), &wishes, unmet)) }
        }
        p.small {
            "Spacing and edge distance are common practice, not a proof of strength: whether the bracket holds must be \
             checked by a licensed engineer."
        }
    })
}

/// A form that writes a found place into the file as a candidate hole.
fn add(app: &App, stand: &Stand<'_>, key: &str, name: &str, at: [f64; 3]) -> Markup {
    let point = format!("{}.{key}", stand.shown.axle.name());
    let edit = Edit::AddHole { point, name: name.to_string(), at: At::Car(at), accuracy: None };
    let edit = serde_json::to_string(&edit).unwrap_or_default();
    html! {
        form.inline method="post" action={ "/edit?token=" (app.guard.token()) } data-keep="" {
            input type="hidden" name="edit" value=(edit);
            input type="hidden" name="back" value=(stand.shown.link(|_| {}));
            button title="write it into the car file as a candidate hole" { "Add as hole" }
        }
    }
}

/// Names that no hole of the point has yet.
fn free_names(axle: &project::model::Axle, point: usize, count: usize) -> Vec<String> {
    let taken = |name: &str| axle.holes.iter().any(|h| h.point == point && h.name == name);
    let letters = (b'A'..=b'Z').map(|c| char::from(c).to_string());
    letters.chain((1..).map(|i| format!("H{i}"))).filter(|n| !taken(n)).take(count).collect()
}
