//! Whole tables: added and taken out, with the blank line that parts them from the next.

use std::ops::Range;

use toml_edit::{Item, Table};

use super::error::EditError;
use super::spell;
use super::tree::{Splice, Tree, deep_end};

/// Tables that stand near the top of a file, behind `[car]`.
const HEAD: [&str; 4] = ["brakes", "drive", "units", "survey"];

/// Adds lines at the end of the file.
pub(crate) fn append(tree: &Tree<'_>, toml: &str) -> String {
    let line_end = tree.line_end();
    let lines: String =
        toml.trim_matches(['\n', '\r']).lines().map(|line| format!("{line}{line_end}")).collect();
    if lines.is_empty() {
        return tree.text.to_string();
    }
    tree.spliced(vec![lines_behind(tree, tree.text.len(), &lines)])
}

/// Lines behind those that hold the byte before `end`, with a blank line before them.
pub(crate) fn lines(tree: &Tree<'_>, end: usize, lines: &str) -> Splice {
    lines_behind(tree, tree.next_line(end), lines)
}

fn lines_behind(tree: &Tree<'_>, at: usize, lines: &str) -> Splice {
    let before = tree.text.get(..at).unwrap_or_default();
    let blank = before.is_empty() || before.ends_with("\n\n") || before.ends_with("\n\r\n");
    let gap = if blank { "" } else { tree.line_end() };
    tree.lines_at(at, &format!("{gap}{lines}"))
}

/// A new table with one key, near others of its sort.
pub(crate) fn with(tree: &Tree<'_>, path: &str, key: &str, value: &str) -> Splice {
    let line_end = tree.line_end();
    let text = format!("[{}]{line_end}{} = {value}{line_end}", header(path), spell::key(key));
    let first = path.split('.').next().unwrap_or(path);
    let neighbour = tree.find(first).or_else(|| HEAD.contains(&first).then(|| tree.find("car")).flatten());
    match neighbour.and_then(deep_end) {
        Some(end) => lines(tree, end, &text),
        None => lines_behind(tree, tree.text.len(), &text),
    }
}

/// A path as a header spells it. A setup's or a datum's name may have dots in it.
fn header(path: &str) -> String {
    let mut known = Vec::new();
    let mut rest = path;
    while let Some((first, after)) = rest.split_once('.') {
        if matches!(known.join(".").as_str(), "setup" | "survey.datum") {
            break;
        }
        known.push(first.to_string());
        rest = after;
    }
    known.push(rest.to_string());
    known.iter().map(|name| spell::key(name)).collect::<Vec<_>>().join(".")
}

/// Takes a table out with everything in it.
pub(crate) fn remove(tree: &Tree<'_>, path: &str) -> Result<String, EditError> {
    let missing = || EditError::NotThere { name: path.to_string(), hint: None };
    let item = tree.find(path).ok_or_else(missing)?;
    let mut blocks = Vec::new();
    collect(item, &mut blocks);
    if blocks.is_empty() {
        return Err(EditError::WrongForm {
            name: path.to_string(),
            wanted: "a table with a header of its own",
        });
    }
    Ok(tree.spliced(blocks.into_iter().map(|block| without_block(tree, block)).collect()))
}

/// Header to last value of every table in an item that has a header.
fn collect(item: &Item, blocks: &mut Vec<Range<usize>>) {
    let mut of = |table: &Table| {
        if !table.is_dotted() && !table.is_implicit() {
            let values =
                table.iter().filter(|(_, item)| !has_header(item)).filter_map(|(_, item)| deep_end(item));
            if let Some(span) = table.span() {
                blocks.push(span.start..values.max().unwrap_or(span.end));
            }
        }
        table.iter().for_each(|(_, item)| collect(item, blocks));
    };
    match item {
        Item::Table(table) => of(table),
        Item::ArrayOfTables(tables) => tables.iter().for_each(of),
        _ => {}
    }
}

fn has_header(item: &Item) -> bool {
    match item {
        Item::Table(table) => !table.is_dotted(),
        Item::ArrayOfTables(_) => true,
        _ => false,
    }
}

/// Takes the lines of a table out, and one of the blank lines around it. Comments above its header stay: they may
/// be about what follows.
pub(crate) fn without_block(tree: &Tree<'_>, block: Range<usize>) -> Splice {
    let (mut start, mut end) = (tree.line_start(block.start), tree.next_line(block.end));
    let before = tree.text.get(..start).unwrap_or_default();
    let after = tree.text.get(end..).unwrap_or_default();
    if before.ends_with("\n\n") {
        start -= 1;
    } else if before.ends_with("\n\r\n") {
        start -= 2;
    } else if after.starts_with('\n') {
        end += 1;
    } else if after.starts_with("\r\n") {
        end += 2;
    }
    if end == tree.text.len() && !tree.text.ends_with('\n') {
        let left = tree.text.get(..start).unwrap_or_default();
        let left = left.strip_suffix('\n').unwrap_or(left);
        start = left.strip_suffix('\r').unwrap_or(left).len();
    }
    Splice::new(start..end, "")
}
