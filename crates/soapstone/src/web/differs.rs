//! What of a part of the page is new against what was sent before: while something moves a few hundred of some ten
//! thousand words change, and reading, comparing and laying out the rest would take longer than working it out.
//!
//! Reads only markup of our own: whole elements, attributes in double quotes.

use std::borrow::Cow;

use serde::Serialize;

/// Elements that show more than their attributes say: the page's own script puts them in place whole.
const FIELDS: [&str; 5] = ["input", "select", "option", "textarea", "output"];

/// Elements without an end.
const VOID: [&str; 6] = ["input", "br", "img", "hr", "col", "wbr"];

/// What tells things of one kind apart: under another name it is another thing.
const NAMES: [&str; 4] = ["id", "data-path", "data-row", "data-result"];

/// Deepest nesting that is read.
const DEEPEST: usize = 60;

/// One thing to change in a part of the page.
#[derive(Debug, Default, PartialEq, Eq, Serialize)]
pub(crate) struct Change {
    /// The way there from the part: the child at each step, words counted too.
    pub at: Vec<usize>,
    /// Its words.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub text: Option<String>,
    /// Attributes by name; without a value they go.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub set: Vec<(String, Option<String>)>,
    /// What the element is to be like, as markup.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub like: Option<String>,
}

/// A part of the page: its name, and the element that has it.
pub(crate) struct Part<'a> {
    pub id: &'a str,
    /// Markup that brings it whole: with the table that a row stands in, without which a browser drops the row.
    pub whole: &'a str,
    element: Element<'a>,
}

impl<'a> Part<'a> {
    pub fn markup(&self) -> &'a str {
        self.element.whole
    }

    /// What makes the part as it was sent before like it is now; `None` where it has to be sent whole.
    pub fn changes(&self, before: &str) -> Option<Vec<Change>> {
        let mut changes = Vec::new();
        if before != self.markup() {
            let before = single(before)?;
            if before.name != self.element.name || before.key() != self.element.key() {
                return None;
            }
            compare(&before, &self.element, &mut Vec::new(), &mut changes);
        }
        Some(changes)
    }
}

/// The parts of an answer. A row stands in a table, which is no part; `None` where the markup is not of our kind.
pub(crate) fn parts(markup: &str) -> Option<Vec<Part<'_>>> {
    fn named<'a>(node: Node<'a>, above: Option<&'a str>) -> Option<Part<'a>> {
        let Node::Element(element) = node else { return None };
        let whole = above.unwrap_or(element.whole);
        match element.attribute("id") {
            Some(id) => Some(Part { id, whole, element }),
            None => element.children.into_iter().find_map(|child| named(child, Some(whole))),
        }
    }
    let nodes = Reader { text: markup, at: 0 }.nodes(0)?;
    Some(nodes.into_iter().filter_map(|node| named(node, None)).collect())
}

fn single(markup: &str) -> Option<Element<'_>> {
    let mut nodes = Reader { text: markup, at: 0 }.nodes(0)?;
    match (nodes.len(), nodes.pop()) {
        (1, Some(Node::Element(element))) => Some(element),
        _ => None,
    }
}

fn compare(before: &Element<'_>, now: &Element<'_>, at: &mut Vec<usize>, changes: &mut Vec<Change>) {
    if before.whole == now.whole {
        return;
    }
    let alike = before.children.len() == now.children.len()
        && before.children.iter().zip(&now.children).all(|pair| match pair {
            (Node::Words(_), Node::Words(_)) => true,
            (Node::Element(a), Node::Element(b)) => a.name == b.name && a.key() == b.key(),
            _ => false,
        });
    if !alike || FIELDS.contains(&now.name) {
        changes.push(Change { at: at.clone(), like: Some(now.whole.to_string()), ..Change::default() });
        return;
    }
    if before.attributes != now.attributes {
        let changed = now.attributes.iter().filter(|own| !before.attributes.contains(own));
        let gone = before.attributes.iter().filter(|(name, _)| now.attribute(name).is_none());
        let set = changed
            .map(|(name, value)| ((*name).to_string(), Some(plain(value).into_owned())))
            .chain(gone.map(|(name, _)| ((*name).to_string(), None)))
            .collect();
        changes.push(Change { at: at.clone(), set, ..Change::default() });
    }
    for (i, pair) in before.children.iter().zip(&now.children).enumerate() {
        at.push(i);
        match pair {
            (Node::Words(a), Node::Words(b)) if a != b => {
                let text = Some(plain(b).into_owned());
                changes.push(Change { at: at.clone(), text, ..Change::default() });
            }
            (Node::Element(a), Node::Element(b)) => compare(a, b, at, changes),
            _ => {}
        }
        at.pop();
    }
}

/// Words without the escapes of our markup.
fn plain(words: &str) -> Cow<'_, str> {
    if !words.contains('&') {
        return Cow::Borrowed(words);
    }
    // The last one last, so that what it gives is not read again.
    let escapes = [("&lt;", "<"), ("&gt;", ">"), ("&quot;", "\""), ("&#39;", "'"), ("&amp;", "&")];
    Cow::Owned(escapes.iter().fold(words.to_string(), |text, (from, to)| text.replace(from, to)))
}

enum Node<'a> {
    Words(&'a str),
    Element(Element<'a>),
}

struct Element<'a> {
    name: &'a str,
    attributes: Vec<(&'a str, &'a str)>,
    children: Vec<Node<'a>>,
    /// Its markup.
    whole: &'a str,
}

impl<'a> Element<'a> {
    fn attribute(&self, name: &str) -> Option<&'a str> {
        self.attributes.iter().find(|(own, _)| *own == name).map(|(_, value)| *value)
    }

    fn key(&self) -> Option<&'a str> {
        NAMES.iter().find_map(|name| self.attribute(name))
    }
}

/// How far it is to the first of some signs, none of which is a part of another letter.
fn length(text: &str, signs: &[u8]) -> Option<usize> {
    text.bytes().position(|byte| signs.contains(&byte))
}

struct Reader<'a> {
    text: &'a str,
    at: usize,
}

impl<'a> Reader<'a> {
    /// Nodes up to the end of the element that they are in, or of the text.
    fn nodes(&mut self, depth: usize) -> Option<Vec<Node<'a>>> {
        let mut nodes = Vec::new();
        loop {
            let rest = self.text.get(self.at..)?;
            if rest.is_empty() || rest.starts_with("</") {
                return Some(nodes);
            }
            let end = length(rest, b"<").unwrap_or(rest.len());
            if end > 0 {
                nodes.push(Node::Words(&rest[..end]));
                self.at += end;
            } else {
                nodes.push(Node::Element(self.element(depth)?));
            }
        }
    }

    fn element(&mut self, depth: usize) -> Option<Element<'a>> {
        let begun = self.at;
        let rest = self.text.get(begun + 1..)?;
        let name = &rest[..length(rest, b" >/")?];
        let letter = name.chars().next().is_some_and(|c| c.is_ascii_alphabetic());
        if !letter || depth > DEEPEST {
            return None;
        }
        self.at = begun + 1 + name.len();
        let attributes = self.attributes()?;
        let closed = self.take("/>");
        if !closed && !self.take(">") {
            return None;
        }
        let mut children = Vec::new();
        if !closed && !VOID.contains(&name) {
            children = self.nodes(depth + 1)?;
            if !(self.take("</") && self.take(name) && self.take(">")) {
                return None;
            }
        }
        Some(Element { name, attributes, children, whole: self.text.get(begun..self.at)? })
    }

    fn attributes(&mut self) -> Option<Vec<(&'a str, &'a str)>> {
        let mut attributes = Vec::new();
        while self.take(" ") {
            let rest = self.text.get(self.at..)?;
            let name = &rest[..length(rest, b"= >/")?];
            self.at += name.len();
            let mut value = "";
            if self.take("=\"") {
                let rest = self.text.get(self.at..)?;
                value = &rest[..length(rest, b"\"")?];
                self.at += value.len() + 1;
            }
            if !name.is_empty() {
                attributes.push((name, value));
            }
        }
        Some(attributes)
    }

    fn take(&mut self, what: &str) -> bool {
        let there = self.text.get(self.at..).is_some_and(|rest| rest.starts_with(what));
        self.at += if there { what.len() } else { 0 };
        there
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn changes(before: &str, now: &str) -> Option<Vec<Change>> {
        Part { id: "", whole: now, element: single(now)? }.changes(before)
    }

    fn at(at: &[usize]) -> Change {
        Change { at: at.to_vec(), ..Change::default() }
    }

    #[test]
    fn only_what_differs_is_told() {
        let before = "<p id=\"a\" class=\"x\">one <b>2</b> <i hidden>3</i></p>";
        let now = "<p id=\"a\" title=\"a &amp; b\">one <b>2.5</b> <i>&lt;3</i></p>";
        let told = changes(before, now).unwrap();
        let set = |name: &str, value: Option<&str>| (name.to_string(), value.map(str::to_string));
        assert_eq!(
            told,
            [
                Change { set: vec![set("title", Some("a & b")), set("class", None)], ..at(&[]) },
                Change { text: Some("2.5".into()), ..at(&[1, 0]) },
                Change { set: vec![set("hidden", None)], ..at(&[3]) },
                Change { text: Some("<3".into()), ..at(&[3, 0]) },
            ]
        );
        assert_eq!(changes(now, now).unwrap(), []);
    }

    #[test]
    fn another_shape_is_told_whole_where_it_differs() {
        let before = "<g id=\"a\"><g><path d=\"M0 0\"/></g><text>a</text></g>";
        let now = "<g id=\"a\"><g><path d=\"M0 0\"/><path d=\"M1 1\"/></g><text>b</text></g>";
        let told = changes(before, now).unwrap();
        let like = "<g><path d=\"M0 0\"/><path d=\"M1 1\"/></g>";
        assert_eq!(
            told,
            [
                Change { like: Some(like.into()), ..at(&[0]) },
                Change { text: Some("b".into()), ..at(&[1, 0]) }
            ]
        );
        let fields = ["<p><input value=\"1\" required></p>", "<p><input value=\"2\" required></p>"];
        let told = changes(fields[0], fields[1]).unwrap();
        assert_eq!(told, [Change { like: Some("<input value=\"2\" required>".into()), ..at(&[0]) }]);
        let renamed = changes("<ul><li id=\"a\">1</li></ul>", "<ul><li id=\"b\">1</li></ul>").unwrap();
        assert_eq!(renamed.len(), 1);
        assert!(renamed[0].like.is_some());
    }

    #[test]
    fn markup_of_another_kind_is_sent_whole() {
        for strange in
            ["<p>a", "<p>a</b>", "<p class=x>a</p>", "text", "<p>a</p><p>b</p>", "<!-- a -->", "< p></p>"]
        {
            assert!(changes("<p>a</p>", strange).is_none(), "{strange}");
        }
        let deep = "<b>".repeat(100) + &"</b>".repeat(100);
        assert!(changes(&deep, "<b></b>").is_none());
        assert!(changes("<p id=\"a\"></p>", "<p id=\"b\"></p>").is_none());
    }

    #[test]
    fn a_row_is_a_part_by_itself() {
        let markup =
            "<section id=\"a\">1<br>2</section><table><tbody><tr id=\"b\"><td>1</td></tr></tbody></table>";
        let parts = parts(markup).unwrap();
        let all: Vec<(&str, &str)> = parts.iter().map(|p| (p.id, p.markup())).collect();
        let row = "<tr id=\"b\"><td>1</td></tr>";
        let table = format!("<table><tbody>{}</tbody></table>", "<tr id=\"b\"><td>1</td></tr>");
        assert_eq!(parts[1].whole, table, "a row by itself is none");
        assert_eq!(all, [("a", "<section id=\"a\">1<br>2</section>"), ("b", row)]);
    }
}
