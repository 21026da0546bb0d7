//! One way in which a part may give way under one load, and how far it is from that.

mod words;

/// What a number of a check is, for its unit.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Measure {
    /// Force [N].
    Force,
    /// Moment [N m].
    Moment,
    /// Stress [Pa].
    Stress,
    /// Length [m].
    Length,
    /// Area [m^2].
    Area,
    /// Section modulus [m^3].
    Modulus,
    /// Second moment of area [m^4].
    SecondMoment,
    /// Plain number.
    Number,
}

/// A figure that went into a check.
#[derive(Clone, Debug, PartialEq)]
pub struct Term {
    /// Its symbol in the formula.
    pub symbol: &'static str,
    /// What it is.
    pub meaning: &'static str,
    /// Its value, SI.
    pub value: f64,
    /// Its unit.
    pub measure: Measure,
}

/// How a part may give way, with what there is to say about it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Failure {
    /// Combined stress reaches yield.
    Yield,
    /// A member yields in tension.
    Tension,
    /// A strut buckles.
    Buckling,
    /// A thread is pulled apart.
    ThreadTension,
    /// A rod end or spherical bearing is overloaded across its hole.
    EndRadial,
    /// A rod end or spherical bearing is overloaded along its hole.
    EndAxial,
    /// A rod end or spherical bearing is loaded across and along its hole at once.
    EndCombined,
    /// The shank of a rod end yields in bending and tension.
    EndShank,
    /// A bolt is sheared.
    BoltShear,
    /// A bolt is pulled apart.
    BoltTension,
    /// A bolt is sheared and pulled at once.
    BoltCombined,
    /// A bolt bends over a grip.
    BoltBending,
    /// A bolt bends and is sheared at once.
    BoltShearBending,
    /// A clamped joint slips.
    Slip,
    /// The edge of a hole is crushed.
    Bearing,
    /// A bolt tears out to the edge.
    TearOut,
    /// The plate parts beside the hole.
    NetSection,
    /// A tab in single shear bends.
    TabBending,
    /// A tab yields at its weld.
    TabRoot,
    /// The wall of a tube gives way under a tab.
    TubeWall,
    /// A tab punches through the wall of a tube.
    Punching,
    /// A fillet weld fails in its throat.
    Weld,
    /// A fillet weld is pulled apart square to its throat.
    WeldNormal,
}

/// One check.
#[derive(Clone, Debug, PartialEq)]
pub struct Check {
    /// What gives way.
    pub failure: Failure,
    /// What the load asks, SI.
    pub demand: f64,
    /// What the part can give, SI.
    pub capacity: f64,
    /// Unit of both.
    pub measure: Measure,
    /// The figures that went in.
    pub terms: Vec<Term>,
    /// Why the check is past what its formula can say.
    pub outside: Option<&'static str>,
}

impl Check {
    /// How many times the load the part would hold: capacity over demand; infinite where nothing is asked.
    pub fn holds(&self) -> f64 {
        if self.demand.abs() > 0.0 { self.capacity / self.demand.abs() } else { f64::INFINITY }
    }
}
