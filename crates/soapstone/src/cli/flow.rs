//! Running matter of the paper in the terminal: the same headings, tables and cautions.

use paper::flow::{Block, Flow};

use super::output::{ACCENT, HEADING, styled};
use super::table;

/// The text of a flow; figures stay on paper.
pub(super) fn text(flow: &Flow) -> String {
    let mut out = String::new();
    for block in &flow.blocks {
        match block {
            Block::Heading { level: 1, words } => {
                let gap = if out.is_empty() { "" } else { "\n" };
                out.push_str(&format!("{gap}{}\n", styled(HEADING, words)));
            }
            Block::Heading { words, .. } => out.push_str(&format!("\n{}\n", styled(ACCENT, words))),
            Block::Paragraph { words, .. } => out.push_str(&format!("{}\n", table::wrap(words, 0))),
            Block::Bullets(items) => {
                for item in items {
                    out.push_str(&format!("- {}\n", table::wrap(item, 2)));
                }
            }
            Block::Pairs(pairs) => {
                for (name, value) in pairs {
                    out.push_str(&format!("{}\n", table::wrap(&format!("{name}: {value}"), 2)));
                }
            }
            Block::Table(of) => out.push_str(&table::of_paper(of)),
            Block::Caution(words) => {
                out.push_str(&format!("{}\n", table::wrap(&format!("Caution: {words}"), 2)));
            }
            Block::Figures { .. } | Block::NewPage => {}
        }
    }
    out
}
