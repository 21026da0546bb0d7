//! The figures of what is shown, one under the other: the choice table for a screen that is held in one hand.

use maud::{Markup, html};

use super::stand::Stand;
use super::table::{change, explain_link, figure, of};
use crate::web::shown::Share;
use crate::words::column_name;

/// The figures, with the change from the car as drawn.
pub(crate) fn part(stand: &Stand<'_>) -> Markup {
    let Some(rows) = stand.choice else { return html! { section.figures id="part-figures" {} } };
    let in_use = stand.in_use().and_then(|i| rows.rows.get(i));
    let row = stand.row.as_ref().or(in_use);
    let drawn = rows.rows.first();
    let units = &stand.base.units;
    let end = stand.shown.axle;
    html! {
        section.figures id="part-figures" aria-label="Figures of what is shown" {
            @if let Some(row) = row {
                @if stand.shown.share == Some(Share::Car) { h2 data-left {} }
                @else { h2 { (row.candidate.name) @if stand.row.is_some() { span.small { " (change from as drawn)" } } } }
                dl {
                    @for (i, column) in rows.columns.iter().enumerate() {
                        // One box a column, so that each follows its own: the other share's stays until that comes.
                        @let late = stand.shown.follows(column.quantity);
                        @if !stand.shown.answers(column.quantity) {
                            div data-late[late] data-still[stand.shown.leaves(column.quantity)] data-left {}
                        }
                        @else if let Some(Some(value)) = row.values.get(i) {
                            @let figure = figure(value, column.quantity, units);
                            div data-late[late] {
                                dt { (column_name(*column, end.into(), units)) " " span.unit { (column.quantity.scale().unit(units)) } }
                                dd {
                                    a.num data-means=(column.quantity.about(end.into()).definition)
                                        href=(explain_link(end, *column, stand.shown.trial.clone())) {
                                        @match &figure { Some(figure) => (of(figure)), None => b { "long" } }
                                    }
                                    @if stand.row.is_some() {
                                        (change(
                                            Some(value),
                                            drawn.and_then(|r| r.values.get(i)?.as_ref()),
                                            figure.as_ref(),
                                            column.quantity,
                                            units,
                                        ))
                                    }
                                }
                            }
                        } @else { div hidden {} }
                    }
                }
            }
        }
    }
}
