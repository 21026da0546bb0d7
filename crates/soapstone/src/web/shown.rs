//! What a page shows, as its address says it: axle, attitude, holes in use, points moved on trial, variants pinned.
//! The whole state is in the address, so that back works and a link can be kept.

use nalgebra::Vector3;
use project::model::{Car, End};
use study::Quantity;

use super::trial::{Move, Pin, Trial};
use crate::cli::select::likely_axle;

/// Greatest travel and rack travel that an address may ask for [m].
const MOST_TRAVEL: f64 = 0.25;

/// Greatest roll that an address may ask for [rad]: that of the axle's own model.
const MOST_ROLL: f64 = 0.34;

/// Most variants that can be pinned at once; more cannot be told apart on paper.
pub(crate) const MOST_PINS: usize = 4;

/// Most points on trial at once.
const MOST_MOVES: usize = 60;

/// Most parts that can be out of sight.
const MOST_PARTS: usize = 10;

/// What the charts run over.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(crate) enum Over {
    #[default]
    Travel,
    Roll,
    Rack,
}

/// What keeps a point on its way while it is dragged.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(crate) enum Hold {
    #[default]
    Free,
    /// In its plate.
    Plate,
    /// At the length of its link.
    Length,
    /// Along one of the car's axes: 0 fore-aft, 1 across, 2 up.
    Axis(usize),
}

/// Which figures are answered while a point moves: those of the axle come first, those that take the whole car follow.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub(crate) enum Share {
    Axle,
    Car,
}

/// A drag that is going on.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Drag {
    /// Where the pointer is.
    pub to: Move,
    /// View that it happens in: `side`, `rear`, `top`, or `none`.
    pub view: String,
}

/// All that the address says.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Shown {
    pub axle: End,
    /// [m]
    pub travel: f64,
    /// [rad]
    pub roll: f64,
    /// [m]
    pub rack: f64,
    pub over: Over,
    /// Both axles in the views, not the corner alone.
    pub whole: bool,
    /// Point whose figures are open.
    pub point: Option<String>,
    pub hold: Hold,
    /// Step in which points move [m].
    pub step: f64,
    pub trial: Trial,
    pub pins: Vec<Pin>,
    /// Wish for the hole finder, such as `anti-lift=30,50`.
    pub want: Option<String>,
    /// Set while a point is dragged; not part of a kept address.
    pub drag: Option<Drag>,
    /// The share of the figures that is asked for in a drag; all where none is named.
    pub share: Option<Share>,
    /// Width that a view has on the reader's screen [px]; not part of a kept address.
    pub width: Option<f64>,
    /// Parts that are scrolled out of sight while something moves; not part of a kept address.
    pub unseen: Vec<String>,
}

/// Step in which points move unless the reader sets another [m].
const STEP: f64 = 0.001;

impl Shown {
    /// The bare page of an axle.
    pub fn of(axle: End) -> Self {
        Self {
            axle,
            travel: 0.0,
            roll: 0.0,
            rack: 0.0,
            over: Over::Travel,
            whole: false,
            point: None,
            hold: Hold::Free,
            step: STEP,
            trial: Trial::default(),
            pins: Vec::new(),
            want: None,
            drag: None,
            share: None,
            width: None,
            unseen: Vec::new(),
        }
    }

    /// Reads the query of an address. What it does not understand it leaves out: an old link still shows the car.
    pub fn parse(query: &str, car: &Car) -> Self {
        let mut shown = Self::of(default_axle(car));
        let mut view = String::from("none");
        let (mut drag, mut want_of) = (None, String::new());
        for (key, value) in form_urlencoded::parse(query.as_bytes()) {
            match &*key {
                "axle" => match &*value {
                    "front" if car.front.is_some() => shown.axle = End::Front,
                    "rear" if car.rear.is_some() => shown.axle = End::Rear,
                    _ => {}
                },
                "travel" => shown.travel = number(&value, MOST_TRAVEL),
                "roll" => shown.roll = number(&value, MOST_ROLL),
                "rack" => shown.rack = number(&value, MOST_TRAVEL),
                "over" => {
                    shown.over = match &*value {
                        "roll" => Over::Roll,
                        "rack" => Over::Rack,
                        _ => Over::Travel,
                    }
                }
                "fit" => shown.whole = value == "car",
                "point" if !value.is_empty() => shown.point = Some(value.into_owned()),
                "hold" => shown.hold = Hold::from_name(&value),
                "step" => {
                    let step = number(&value, 0.1);
                    shown.step = if step > 0.0 { step } else { STEP };
                }
                "with" if car.setup(&value).is_some() => shown.trial.with = Some(value.into_owned()),
                "use" => shown.trial.uses.push(value.into_owned()),
                "move" if shown.trial.moves.len() < MOST_MOVES => {
                    shown.trial.moves.extend(Move::parse(&value));
                }
                "pin" if shown.pins.len() < MOST_PINS => shown.pins.push(Pin::parse(&value)),
                "want" if !value.trim().is_empty() => shown.want = Some(value.into_owned()),
                // From the finder's form: the quantity by itself.
                "want-of" => want_of = value.into_owned(),
                "drag" => drag = Move::parse(&value),
                "view" => view = value.into_owned(),
                "share" => {
                    shown.share = match &*value {
                        "axle" => Some(Share::Axle),
                        "car" => Some(Share::Car),
                        _ => None,
                    }
                }
                "unseen" => shown.unseen = value.split(',').take(MOST_PARTS).map(str::to_string).collect(),
                "width" => shown.width = Some(number(&value, 4000.0)).filter(|w| *w >= 100.0),
                _ => {}
            }
        }
        if let Some(want) = shown.want.take() {
            let whole = want.contains('=') || want_of.is_empty();
            shown.want = Some(if whole { want } else { format!("{want_of}={want}") });
        }
        shown.drag = drag.map(|to| Drag { to, view });
        shown.share = shown.share.filter(|_| shown.drag.is_some());
        shown
    }

    /// Whether the reader has a part on the screen, as far as is known.
    pub fn sees(&self, part: &str) -> bool {
        !self.unseen.iter().any(|name| name == part)
    }

    /// Whether a figure is worked out now; in a drag some come in another answer, some once it is over.
    pub fn answers(&self, quantity: Quantity) -> bool {
        !self.leaves(quantity)
            && self.share.is_none_or(|share| (share == Share::Car) == quantity.of_whole_car())
    }

    /// Whether a figure comes behind those of the axle, in an answer of its own.
    pub fn follows(&self, quantity: Quantity) -> bool {
        self.share.is_some() && quantity.of_whole_car() && !self.leaves(quantity)
    }

    /// Whether a figure is left as it was until the drag is over.
    pub fn leaves(&self, quantity: Quantity) -> bool {
        self.drag.is_some() && quantity.takes_long()
    }

    /// The query that says the same.
    pub fn query(&self) -> String {
        let mut out = form_urlencoded::Serializer::new(String::new());
        for (key, value) in self.pairs() {
            out.append_pair(key, &value);
        }
        out.finish()
    }

    /// The same as names and values: for the hidden fields of a form.
    pub fn pairs(&self) -> Vec<(&'static str, String)> {
        let mut pairs = vec![("axle", self.axle.name().to_string())];
        for (key, value) in [("travel", self.travel), ("roll", self.roll), ("rack", self.rack)] {
            if value != 0.0 {
                pairs.push((key, format!("{value:.6}")));
            }
        }
        match self.over {
            Over::Travel => {}
            Over::Roll => pairs.push(("over", "roll".into())),
            Over::Rack => pairs.push(("over", "rack".into())),
        }
        if self.whole {
            pairs.push(("fit", "car".into()));
        }
        pairs.extend(self.point.iter().map(|p| ("point", p.clone())));
        if self.hold != Hold::Free {
            pairs.push(("hold", self.hold.name().into()));
        }
        if self.step != STEP {
            pairs.push(("step", self.step.to_string()));
        }
        pairs.extend(self.trial.with.iter().map(|name| ("with", name.clone())));
        pairs.extend(self.trial.uses.iter().map(|u| ("use", u.clone())));
        pairs.extend(self.trial.moves.iter().map(|m| ("move", m.to_string())));
        pairs.extend(self.pins.iter().map(|p| ("pin", p.to_string())));
        pairs.extend(self.want.iter().map(|w| ("want", w.clone())));
        pairs
    }

    /// The address of the Place page with something changed.
    pub fn link(&self, change: impl FnOnce(&mut Self)) -> String {
        let mut other = self.clone();
        change(&mut other);
        format!("/place?{}", other.query())
    }
}

impl Hold {
    /// As the address has it.
    pub fn name(self) -> &'static str {
        match self {
            Self::Free => "free",
            Self::Plate => "plate",
            Self::Length => "length",
            Self::Axis(0) => "x",
            Self::Axis(1) => "y",
            Self::Axis(_) => "z",
        }
    }

    fn from_name(name: &str) -> Self {
        match name {
            "plate" => Self::Plate,
            "length" => Self::Length,
            "x" => Self::Axis(0),
            "y" => Self::Axis(1),
            "z" => Self::Axis(2),
            _ => Self::Free,
        }
    }
}

fn number(text: &str, most: f64) -> f64 {
    text.parse::<f64>().ok().filter(|n| n.is_finite()).map_or(0.0, |n| n.clamp(-most, most))
}

/// The axle that a car's file chooses for, else the one that commands take.
pub(crate) fn default_axle(car: &Car) -> End {
    car.choose.axle.filter(|end| car.axle(*end).is_some()).unwrap_or_else(|| likely_axle(car))
}

/// Three numbers parted by commas [m]; nothing farther than any part of a car.
pub(crate) fn parse_place(text: &str) -> Option<Vector3<f64>> {
    let mut numbers =
        text.split(',').map(|n| n.trim().parse::<f64>().ok().filter(|n| n.is_finite() && n.abs() < 100.0));
    let at = Vector3::new(numbers.next()??, numbers.next()??, numbers.next()??);
    numbers.next().is_none().then_some(at)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn plover() -> Car {
        project::read(crate::cli::DEMO).car.unwrap()
    }

    #[test]
    fn an_address_says_what_is_shown() {
        let car = plover();
        let query = "axle=front&travel=0.02&rack=-0.01&over=roll&fit=car&hold=length&use=link.lower-fore.body%3DB\
                     &move=tie-rod.body%40-0.1%2C0.34%2C0.25&pin=high~use=link.lower-fore.body=C~move=a@1,2,3\
                     &want=anti-dive%3D20&step=0.005&point=tie-rod.body";
        let shown = Shown::parse(query, &car);
        assert_eq!((shown.axle, shown.travel, shown.rack), (End::Front, 0.02, -0.01));
        assert_eq!(
            (shown.over, shown.whole, shown.hold, shown.step),
            (Over::Roll, true, Hold::Length, 0.005)
        );
        assert_eq!(shown.trial.moves[0].to, Vector3::new(-0.1, 0.34, 0.25));
        assert_eq!(shown.pins[0].trial.uses, ["link.lower-fore.body=C"]);
        assert_eq!(Shown::parse(&shown.query(), &car), shown);
    }

    #[test]
    fn nonsense_in_an_address_is_left_out() {
        let car = plover();
        let bare = Shown::parse("", &car);
        assert_eq!(bare.axle, End::Rear);
        for query in [
            "travel=NaN",
            "move=x@1,2",
            "move=x@1,2,inf",
            "move=@",
            "axle=middle",
            "%%%",
            "step=-1",
            "drag=q",
        ] {
            assert_eq!(Shown::parse(query, &car), bare, "{query}");
        }
        assert_eq!(Shown::parse("travel=9", &car).travel, MOST_TRAVEL);
        let many = "pin=a&".repeat(50) + &"move=a@0,0,0&".repeat(500);
        let shown = Shown::parse(&many, &car);
        assert_eq!((shown.pins.len(), shown.trial.moves.len()), (MOST_PINS, MOST_MOVES));
    }
}
