//! The tables of places: the points of an axle, its candidate holes, the corners of its plates.

use maud::{Markup, html};
use project::edit::{Edit, Place, TypedPoint};
use project::model::End;

use super::Survey;
use super::names::{part, point, row_name, slug, whole};
use super::row::{Row, row, why};

/// A place with what stands in the file.
type Written = (Place, TypedPoint);

/// The points, the wheel's middle first, those of a part together.
pub(crate) fn points(survey: &Survey<'_>) -> Markup {
    let end = survey.asked.axle;
    let all: Vec<Written> = survey
        .typed
        .points(end)
        .into_iter()
        .filter_map(|name| {
            let place = Place::Point(name);
            let typed = survey.typed.point(&place)?;
            Some((place, typed))
        })
        .collect();
    let names: Vec<String> = all.iter().map(|(place, _)| row_name(place)).collect();
    let own = names.iter().position(|name| survey.asked.point.as_deref() == Some(name));
    let wrong: Vec<bool> = all.iter().map(|(_, typed)| survey.mistakes.any(&typed.span)).collect();
    // On a telephone one row is seen at a time: the first is the one that needs a hand.
    let current = own.or_else(|| wrong.iter().position(|wrong| *wrong)).unwrap_or(0);
    let mut groups: Vec<(String, Vec<usize>)> = Vec::new();
    for (i, name) in names.iter().enumerate() {
        let part = part(name);
        match groups.last_mut() {
            Some((last, rows)) if *last == part => rows.push(i),
            _ => groups.push((part, vec![i])),
        }
    }
    html! {
        section.sheet id="part-points" data-sheet="" aria-label="Points" {
            h1.unseen { "Measure the " (end.name()) " axle" }
            h2 { "Points" span.small { " as typed; a fraction or a unit of its own will do: 24 1/2 in" } }
            table.places {
                thead { tr {
                    th scope="col" { "point" } th scope="col" { "x" } th scope="col" { "y" } th scope="col" { "z" }
                    th scope="col" data-means="How sure one coordinate of this point is, one standard deviation. Empty: as the survey says." { "±" }
                    th { span.unseen { "do" } }
                } }
                @for (part, rows) in &groups {
                    tbody {
                        tr.group data-row={ "part-of-" (slug(part)) } {
                            th colspan="6" scope="rowgroup" { (part) (of_table(survey, end, rows.first().and_then(|i| names.get(*i)))) }
                        }
                        @for i in rows {
                            @if let (Some((place, typed)), Some(name)) = (all.get(*i), names.get(*i)) {
                                (row(survey, &Row {
                                    place, typed,
                                    part: part.clone(),
                                    words: point(name),
                                    pasted_as: Some(name.clone()),
                                    hole: false, doubt: true,
                                    current: *i == current,
                                    end: html! {},
                                }))
                            }
                        }
                    }
                }
            }
        }
        (steps(survey, &names, &wrong, current))
    }
}

/// What is wrong with a part's table as a whole, such as a point that is missing.
fn of_table(survey: &Survey<'_>, end: End, name: Option<&String>) -> Markup {
    let table =
        name.and_then(|name| name.rsplit_once('.')).map(|(table, _)| format!("{}.{table}", end.name()));
    let about = table.and_then(|table| survey.typed.header(&table)).map(|span| survey.mistakes.take(&span));
    html! { @for diagnostic in about.unwrap_or_default() { (why(None, diagnostic)) } }
}

/// From point to point, within reach of a thumb.
fn steps(survey: &Survey<'_>, names: &[String], wrong: &[bool], current: usize) -> Markup {
    let at = |i: Option<usize>| i.and_then(|i| names.get(i)).map(|name| survey.asked.at(name));
    let (before, after) = (at(current.checked_sub(1)), at(current.checked_add(1)));
    html! {
        nav.steps id="part-steps" aria-label="Points one by one" {
            @match before { Some(to) => a.button href=(to) { "Back" }, None => span.button.off { "Back" } }
            form method="get" action="/measure" data-state="" {
                @for (key, value) in survey.asked.pairs() { input type="hidden" name=(key) value=(value); }
                label {
                    span.unseen { "Point" }
                    select name="point" {
                        @for (i, name) in names.iter().enumerate() {
                            option value=(name) selected[i == current] { (i + 1) "/" (names.len()) " " (whole(name)) @if wrong.get(i) == Some(&true) { " – look at this" } }
                        }
                    }
                }
                button.no-script { "Go" }
            }
            @match after { Some(to) => a.button.main href=(to) data-next="" { "Next" }, None => span.button.off { "Next" } }
        }
    }
}

/// The candidate holes, and a row for another one.
pub(crate) fn holes(survey: &Survey<'_>) -> Markup {
    let end = survey.asked.axle;
    let kept = survey.kept.as_ref().filter(|kept| kept.cell == "add-hole");
    let had = |name: &str| kept.map_or("", |kept| kept.fields.get(name));
    let ends: Vec<String> =
        survey.typed.points(end).into_iter().filter(|name| !name.ends_with(".wheel.centre")).collect();
    html! {
        section.sheet id="part-holes" data-sheet="" aria-label="Candidate holes" {
            h2 { "Candidate holes" span.small { " places where a point may go instead" } }
            table.places.open {
                thead { tr {
                    th scope="col" { "for" } th scope="col" { "name" } th scope="col" { "x" } th scope="col" { "y" }
                    th scope="col" { "z" } th scope="col" { "±" } th { span.unseen { "do" } }
                } }
                tbody {
                    @for place in survey.typed.holes(end) {
                        @if let (Some(typed), Place::Hole { point: of, name }) = (survey.typed.point(&place), &place) {
                            @let key = of.split_once('.').map_or(of.as_str(), |(_, key)| key);
                            (row(survey, &Row {
                                place: &place, typed: &typed,
                                part: "hole".into(),
                                words: whole(key),
                                pasted_as: Some(format!("{key}={name}")),
                                hole: true, doubt: true, current: false,
                                end: remove(survey, &place),
                            }))
                        }
                    }
                }
            }
            form.add data-row="new-hole" data-post="" method="post" action={ "/measure?token=" (survey.app.guard.token()) } {
                input type="hidden" name="back" value=(survey.asked.address());
                b { "Another hole" }
                label { "for "
                    select name="add-hole" {
                        @for name in &ends {
                            @let key = name.split_once('.').map_or(name.as_str(), |(_, key)| key);
                            option value=(name) selected[had("add-hole") == name] { (whole(key)) }
                        }
                    }
                }
                @for (field, words, size) in [("name", "name", 6), ("x", "x", 8), ("y", "y", 8), ("z", "z", 8), ("accuracy", "±", 6)] {
                    label { (words) " " input name=(field) value=(had(field)) size=(size) inputmode="text" autocomplete="off"; }
                }
                button disabled[survey.read_only] { "Add" }
                @if let Some(kept) = kept {
                    p.why role="alert" { (kept.message) @if let Some(hint) = &kept.hint { span.hint { " " (hint) } } }
                }
            }
        }
    }
}

fn remove(survey: &Survey<'_>, place: &Place) -> Markup {
    let Place::Hole { point, name } = place else { return html! {} };
    let edit = Edit::RemoveHole { point: point.clone(), name: name.clone() };
    html! {
        form method="post" action={ "/edit?token=" (survey.app.guard.token()) } data-keep="" {
            input type="hidden" name="edit" value=(serde_json::to_string(&edit).unwrap_or_default());
            input type="hidden" name="back" value=(survey.asked.address());
            button aria-label={ "Remove " (place) } disabled[survey.read_only] { "Remove" }
        }
    }
}

/// The corners of the plates.
pub(crate) fn plates(survey: &Survey<'_>) -> Markup {
    let path = format!("{}.plate", survey.asked.axle.name());
    let plates = survey.typed.tables(&path);
    html! {
        section.sheet id="part-plates" data-sheet="" aria-label="Plates" {
            @for name in &plates {
                @let plate = format!("{path}.{name}");
                @let of = survey.typed.value(&format!("{plate}.end")).map(|typed| typed.text);
                h2 { "Plate " (name) @if let Some(of) = of { span.small { " for " (whole(&of)) } } }
                table.places.open {
                    thead { tr {
                        th scope="col" { "corner" } th scope="col" { "x" } th scope="col" { "y" } th scope="col" { "z" } th { span.unseen { "do" } }
                    } }
                    tbody {
                        @for (i, place) in survey.typed.corners(&plate).iter().enumerate() {
                            @if let Some(typed) = survey.typed.point(place) {
                                (row(survey, &Row {
                                    place, typed: &typed,
                                    part: format!("plate {name}"),
                                    words: format!("corner {}", i + 1),
                                    pasted_as: None, hole: false, doubt: false, current: false,
                                    end: html! {},
                                }))
                            }
                        }
                    }
                }
                (super::values::plate(survey, name))
            }
        }
    }
}
