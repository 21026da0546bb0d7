//! What the address of the Measure page asks for. The rest of the query belongs to the other stages and is carried
//! along.

use project::edit::AsTyped;
use project::model::{Car, End};

use crate::web::shown::default_axle;

/// What is asked for.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Asked {
    pub axle: End,
    /// Row that is at hand, by its name on the page: `link.toe.body`, `link.toe.body#A`, `plate.NAME@0`.
    pub point: Option<String>,
    /// The file as text in place of the tables.
    pub text: bool,
    rest: Vec<(String, String)>,
}

impl Asked {
    /// Reads the query of an address.
    pub fn parse(query: &str, car: Option<&Car>, typed: Option<&AsTyped<'_>>) -> Self {
        let has = |end: End| typed.is_some_and(|typed| typed.has(end.name()));
        let first = if has(End::Rear) || !has(End::Front) { End::Rear } else { End::Front };
        let mut asked =
            Self { axle: car.map_or(first, default_axle), point: None, text: false, rest: Vec::new() };
        for (key, value) in form_urlencoded::parse(query.as_bytes()) {
            match (&*key, &*value) {
                ("axle", "front") if has(End::Front) => asked.axle = End::Front,
                ("axle", "rear") if has(End::Rear) => asked.axle = End::Rear,
                ("axle", _) => {}
                ("point", "") => {}
                ("point", _) => asked.point = Some(value.into_owned()),
                ("text", _) => asked.text = true,
                // Left in the address by a form that was refused.
                ("token", _) => {}
                _ => asked.rest.push((key.into_owned(), value.into_owned())),
            }
        }
        asked
    }

    /// The query that says the same, as far as every stage understands it.
    pub fn query(&self) -> String {
        let shared = |point: &&String| !point.contains('@') && *point != "wheel.centre";
        self.written(self.point.as_ref().filter(shared).map(String::as_str))
    }

    /// Address of this page.
    pub fn address(&self) -> String {
        format!("/measure?{}", self.written(self.point.as_deref()))
    }

    /// Address of this page with another row at hand.
    pub fn at(&self, point: &str) -> String {
        format!("/measure?{}", self.written(Some(point)))
    }

    /// Names and values of everything but the row: for hidden fields.
    pub fn pairs(&self) -> impl Iterator<Item = (&str, &str)> {
        let rest = self.rest.iter().map(|(key, value)| (key.as_str(), value.as_str()));
        std::iter::once(("axle", self.axle.name())).chain(rest)
    }

    fn written(&self, point: Option<&str>) -> String {
        let mut out = form_urlencoded::Serializer::new(String::new());
        out.extend_pairs(self.pairs());
        if let Some(point) = point {
            out.append_pair("point", point);
        }
        out.finish()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_state_of_the_other_stages_is_carried_along() {
        let text = crate::cli::DEMO;
        let typed = AsTyped::of(text).unwrap();
        let car = project::read(text).car.unwrap();
        let asked = Asked::parse(
            "axle=front&travel=0.02&point=wheel.centre&use=a%3DB&token=1",
            Some(&car),
            Some(&typed),
        );
        assert_eq!((asked.axle, asked.point.as_deref()), (End::Front, Some("wheel.centre")));
        assert_eq!(asked.query(), "axle=front&travel=0.02&use=a%3DB");
        assert!(asked.address().ends_with("&point=wheel.centre"));
        assert_eq!(Asked::parse("axle=middle", Some(&car), Some(&typed)).axle, End::Rear);
        assert_eq!(Asked::parse("", None, None).axle, End::Rear);
    }
}
