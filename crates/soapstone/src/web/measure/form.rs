//! Forms of the page, as they come without a script: which cells were typed into, and the edits that they mean.

use std::collections::BTreeMap;

use project::edit::{At, Coordinate, Edit, Place};

/// A form's fields.
#[derive(Clone, Debug, Default)]
pub(crate) struct Fields(BTreeMap<String, String>);

impl Fields {
    /// Reads the body of a request.
    pub fn parse(body: &[u8]) -> Self {
        Self(form_urlencoded::parse(body).map(|(k, v)| (k.into_owned(), v.into_owned())).collect())
    }

    /// A field's text; empty where it is not there.
    pub fn get(&self, name: &str) -> &str {
        self.0.get(name).map_or("", String::as_str)
    }

    /// A field's text, if the form has it.
    pub fn any(&self, name: &str) -> Option<&str> {
        self.0.get(name).map(String::as_str)
    }

    /// A path of our own to go back to.
    pub fn back(&self, other: &str) -> String {
        let back = self.get("back");
        let own = back.starts_with('/') && !back.starts_with("//") && !back.contains('\\');
        if own { back.to_string() } else { other.to_string() }
    }

    /// What a cell had when the page was made.
    fn was(&self, name: &str) -> &str {
        self.get(&format!("was:{name}"))
    }

    /// The text of a cell if it was typed into.
    fn typed(&self, name: &str) -> Option<&str> {
        self.any(name).map(str::trim).filter(|text| *text != self.was(name))
    }

    /// The edits that the form means, each with the cell that it comes from. Cells that were left alone change
    /// nothing, so that two people at two screens do not undo each other's figures.
    pub fn edits(&self) -> Vec<(String, Edit)> {
        let mut edits = Vec::new();
        if let Ok(place) = serde_json::from_str::<Place>(self.get("place")) {
            self.place_edits(&place, &mut edits);
        }
        for name in self.0.keys().filter(|name| name.starts_with("value:")) {
            let Some(text) = self.typed(name) else { continue };
            let path = name.trim_start_matches("value:").to_string();
            let text = (!text.is_empty()).then(|| text.to_string());
            edits.push((name.clone(), Edit::Value { path, text }));
        }
        if let Some(point) = self.any("add-hole") {
            let own = |name: &str| self.get(name).trim().to_string();
            let accuracy = Some(own("accuracy")).filter(|text| !text.is_empty());
            let edit = Edit::AddHole {
                point: point.to_string(),
                name: own("name"),
                at: At::Typed([own("x"), own("y"), own("z")]),
                accuracy,
            };
            edits.push(("add-hole".into(), edit));
        }
        edits
    }

    fn place_edits(&self, place: &Place, edits: &mut Vec<(String, Edit)>) {
        let all = ["x", "y", "z"];
        if self.any("whole").is_some() && all.iter().any(|name| self.typed(name).is_some()) {
            // A point with too few or too many coordinates is written anew.
            let to = At::Typed(all.map(|name| self.get(name).trim().to_string()));
            edits.push(("x".into(), Edit::Move { place: place.clone(), to }));
        } else {
            for (name, coordinate) in all.into_iter().zip(Coordinate::ALL) {
                if let Some(text) = self.typed(name) {
                    let (place, text) = (place.clone(), text.to_string());
                    edits.push((name.into(), Edit::Coordinate { place, coordinate, text }));
                }
            }
        }
        if let Some(text) = self.typed("accuracy") {
            let text = (!text.is_empty()).then(|| text.to_string());
            edits.push(("accuracy".into(), Edit::Accuracy { place: place.clone(), text }));
        }
        // Last, since the others know the hole by its old name.
        if let (Some(to), Place::Hole { point, name }) = (self.typed("name"), place) {
            let edit = Edit::RenameHole { point: point.clone(), name: name.clone(), to: to.to_string() };
            edits.push(("name".into(), edit));
        }
    }
}

/// Edits as one step of the history.
pub(crate) fn as_one(label: &str, edits: &[(String, Edit)]) -> Option<Edit> {
    match edits {
        [] => None,
        [(_, edit)] => Some(edit.clone()),
        many => {
            let edits = many.iter().map(|(_, edit)| edit.clone()).collect();
            Some(Edit::Several { label: label.to_string(), edits })
        }
    }
}

/// A form that was refused: what was typed, and what is wrong with it.
pub(crate) struct Kept {
    pub fields: Fields,
    /// The cell.
    pub cell: String,
    pub message: String,
    pub hint: Option<String>,
}

impl Kept {
    /// Whether the form is the one of a place.
    pub fn is_of(&self, place: &Place) -> bool {
        serde_json::from_str::<Place>(self.fields.get("place")).is_ok_and(|own| own == *place)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn only_what_was_typed_is_changed() {
        let place = Place::Point("rear.link.toe.body".into());
        let json = serde_json::to_string(&place).unwrap();
        let mut body = form_urlencoded::Serializer::new(String::new());
        body.append_pair("place", &json).append_pair("x", "1").append_pair("was:x", "1");
        body.append_pair("y", " 24 1/2 in ").append_pair("was:y", "2").append_pair("accuracy", "");
        body.append_pair("was:accuracy", "0.5").append_pair("value:rear.wheel.toe", "0.2");
        let edits = Fields::parse(body.finish().as_bytes()).edits();
        let cells: Vec<&str> = edits.iter().map(|(cell, _)| cell.as_str()).collect();
        assert_eq!(cells, ["y", "accuracy", "value:rear.wheel.toe"]);
        let expect =
            Edit::Coordinate { place: place.clone(), coordinate: Coordinate::Y, text: "24 1/2 in".into() };
        assert_eq!(edits[0].1, expect);
        assert_eq!(edits[1].1, Edit::Accuracy { place, text: None });
        assert!(matches!(as_one("a", &edits), Some(Edit::Several { edits, .. }) if edits.len() == 3));
        assert_eq!(as_one("a", &[]), None);
    }

    #[test]
    fn goes_back_to_no_other_site() {
        let back = |text: &str| Fields::parse(format!("back={text}").as_bytes()).back("/measure");
        assert_eq!(back("/measure?axle=rear"), "/measure?axle=rear");
        assert_eq!(back("//evil.example"), "/measure");
        assert_eq!(back("https:"), "/measure");
    }
}
