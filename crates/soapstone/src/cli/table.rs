//! Tables of text: a heading row, a thin line, right-aligned figures.

use comfy_table::{CellAlignment, ContentArrangement, LineStyle, Table, TableStyle};

use super::output::{HEADING, styled};

/// One thin line under the headings and no other.
const THIN: TableStyle = TableStyle::new().header_separator(LineStyle::none().fill('─').junction('─'));

/// A table whose first column is a name and the others figures. Where it is wider than the terminal it is cut
/// into tables below each other, each with the first column.
pub(crate) fn figures(headings: &[Vec<String>], rows: &[Vec<String>]) -> String {
    aligned(headings, rows, &|column| column == 0)
}

/// A table as it stands on paper.
pub(crate) fn of_paper(table: &paper::flow::Table) -> String {
    let headings: Vec<Vec<String>> = table.columns.iter().map(|c| vec![c.heading.clone()]).collect();
    let left =
        |column: usize| table.columns.get(column).is_some_and(|c| c.align == paper::sheet::Align::Left);
    aligned(&headings, &table.rows, &left)
}

/// The same with columns that stand at the left where told so.
fn aligned(headings: &[Vec<String>], rows: &[Vec<String>], left: &dyn Fn(usize) -> bool) -> String {
    let widths: Vec<usize> = headings
        .iter()
        .enumerate()
        .map(|(i, lines)| {
            let cells = rows.iter().filter_map(|r| r.get(i)).chain(lines);
            cells.map(|c| c.chars().count()).max().unwrap_or(0) + GAP
        })
        .collect();
    let room = width();
    let first = widths.first().copied().unwrap_or(0);
    let mut parts: Vec<Vec<usize>> = Vec::new();
    let mut used = 0;
    for (i, w) in widths.iter().enumerate().skip(1) {
        match parts.last_mut() {
            Some(part) if used + w <= room + GAP => part.push(i),
            _ => {
                parts.push(vec![0, i]);
                used = first;
            }
        }
        used += w;
    }
    if parts.is_empty() {
        parts.push(vec![0]);
    }
    let tables: Vec<String> = parts
        .iter()
        .map(|part| {
            let take =
                |row: &Vec<String>| part.iter().filter_map(|i| row.get(*i).cloned()).collect::<Vec<_>>();
            let head: Vec<Vec<String>> = part.iter().filter_map(|i| headings.get(*i).cloned()).collect();
            let left: Vec<bool> = part.iter().map(|i| left(*i)).collect();
            one(&head, &rows.iter().map(take).collect::<Vec<_>>(), &left)
        })
        .collect();
    tables.join("\n")
}

/// Space between columns.
const GAP: usize = 3;

fn one(headings: &[Vec<String>], rows: &[Vec<String>], left: &[bool]) -> String {
    let mut table = Table::new();
    table.load_style(THIN).set_content_arrangement(ContentArrangement::Disabled);
    // A heading may have several lines: name, then unit.
    let header: Vec<String> = headings
        .iter()
        .map(|lines| lines.iter().map(|l| styled(HEADING, l)).collect::<Vec<_>>().join("\n"))
        .collect();
    table.set_header(header);
    for row in rows {
        table.add_row(row);
    }
    for (i, column) in table.column_iter_mut().enumerate() {
        column.set_padding((0, 2));
        column.set_cell_alignment(if left.get(i) == Some(&true) {
            CellAlignment::Left
        } else {
            CellAlignment::Right
        });
    }
    table.lines().map(|l| format!("{}\n", l.trim_end())).collect()
}

/// Width of the terminal [characters]; a page of text where there is none.
pub(crate) fn width() -> usize {
    terminal_size::terminal_size().map_or(100, |(w, _)| usize::from(w.0)).clamp(40, 160)
}

/// Breaks text at spaces so that no line is longer than the terminal, each line but the first indented.
pub(crate) fn wrap(text: &str, indent: usize) -> String {
    let room = width().saturating_sub(indent).max(20);
    let mut out = String::new();
    let mut line = 0;
    for word in text.split_whitespace() {
        let length = word.chars().count();
        if line > 0 && line + 1 + length > room {
            out.push('\n');
            out.push_str(&" ".repeat(indent));
            line = 0;
        } else if line > 0 {
            out.push(' ');
            line += 1;
        }
        out.push_str(word);
        line += length;
    }
    out
}
