//! Above the table: which axle, and what to do with a trial.

use maud::{Markup, html};
use project::model::End;

use super::stand::Stand;
use crate::web::App;
use crate::web::shown::Shown;
use crate::web::trial::Trial;

/// The axles of the car, and how much of it the views show.
pub(crate) fn axles(stand: &Stand<'_>) -> Markup {
    let ends = [End::Front, End::Rear].into_iter().filter(|end| stand.base.axle(*end).is_some());
    html! {
        nav.axles id="part-axles" aria-label="Axle" {
            @for end in ends {
                @let kind = stand.base.axle(end).map_or("", |a| a.kind.as_str());
                @let own = end == stand.shown.axle;
                a href={ "/place?" (Shown::of(end).query()) } aria-current=[own.then_some("true")] {
                    (end.name()) " axle" span.small { " " (kind) }
                }
            }
            a.whole href=(stand.shown.link(|s| s.whole = !s.whole)) {
                @if stand.shown.whole { "show this corner" } @else { "show both axles" }
            }
        }
    }
}

/// What is on trial, and what to do with it.
pub(crate) fn trial(app: &App, stand: &Stand<'_>) -> Markup {
    let trial = &stand.shown.trial;
    let hidden = |shown: &Shown| {
        html! { @for (name, value) in shown.pairs() { input type="hidden" name=(name) value=(value); } }
    };
    let bare = {
        let mut shown = stand.shown.clone();
        shown.trial = Trial::default();
        shown
    };
    let name = stand.trial_name();
    let adopt =
        trial.adopt(stand.base, stand.shown.axle, &name).and_then(|edit| serde_json::to_string(&edit).ok());
    html! {
        div.trial-bar.idle[trial.is_empty()] id="part-trial" {
            @if trial.is_empty() {
                p.hint {
                    "Drag a square mark, or pick a hole: the table follows. Nothing is written until you keep it."
                }
            } @else {
                p { b { "On trial: " } (name) }
                @if let Some(edit) = adopt {
                    form method="post" action={ "/edit?token=" (app.guard.token()) } data-keep="" {
                        input type="hidden" name="edit" value=(edit);
                        input type="hidden" name="back" value={ "/place?" (bare.query()) };
                        button.main title="write it into the car file; undo takes it back" {
                            "Keep" span.wide { " in the car" }
                        }
                    }
                }
                form method="get" action="/place" data-pin="" {
                    (hidden(&stand.shown))
                    label.wide { span.unseen { "Name of the variant" } input name="pin-as" value=(name) maxlength="40" size="16"; }
                    button title="keep it in the table and the charts as a variant" { "Pin" span.wide { " beside the car" } }
                }
                a.button href={ "/place?" (bare.query()) } { "Put back" }
            }
        }
    }
}
