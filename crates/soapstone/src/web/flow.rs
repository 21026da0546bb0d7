//! Running matter of the paper on a page: the same headings, tables, figures and cautions.

use maud::{Markup, PreEscaped, html};
use paper::flow::{Block, Column, Flow, Table};
use paper::sheet::Align;

/// The blocks of a flow; headings begin at the second level, the page's own name being the first.
pub(crate) fn blocks(flow: &Flow) -> Markup {
    html! { @for block in &flow.blocks { (one(block)) } }
}

fn one(block: &Block) -> Markup {
    match block {
        Block::Heading { level: 1 | 2, words } => html! { h2 { (words) } },
        Block::Heading { words, .. } => html! { h3 { (words) } },
        Block::Paragraph { words, small } => html! { p.small[*small] { (words) } },
        Block::Bullets(items) if items.is_empty() => html! {},
        Block::Bullets(items) => html! { ul { @for item in items { li { (item) } } } },
        Block::Pairs(pairs) => html! {
            dl { @for (name, value) in pairs { dt { (name) } dd { (value) } } }
        },
        Block::Table(of) => table(of),
        Block::Caution(words) => html! { p.caution role="note" { (words) } },
        Block::Figures { figures, .. } => html! {
            @for figure in figures {
                figure tabindex="0" {
                    (PreEscaped(figure.drawing.svg()))
                    figcaption { (figure.caption) }
                }
            }
        },
        Block::NewPage => html! {},
    }
}

/// A table that scrolls in itself where it is wider than the screen.
fn table(of: &Table) -> Markup {
    let right = |column: Option<&Column>| column.is_some_and(|c| c.align == Align::Right);
    html! {
        div.scrolls tabindex="0" role="group" aria-label="Table" {
            table.printed {
                thead { tr { @for column in &of.columns {
                    th.number[right(Some(column))] scope="col" { (column.heading) }
                } } }
                tbody { @for row in &of.rows { tr {
                    @for (index, cell) in row.iter().enumerate() {
                        // A short row ends in words that have the rest of the width.
                        @let rest = (index + 1 == row.len()).then(|| of.columns.len().saturating_sub(index));
                        @let span = rest.filter(|rest| *rest > 1);
                        @if index == 0 { th scope="row" colspan=[span] { (cell) } }
                        @else { td.number[right(of.columns.get(index)) && span.is_none()] colspan=[span] { (cell) } }
                    }
                } } }
            }
        }
    }
}
