//! What each check is called, its formula, its source, and what it leaves out.

use super::Failure;

/// Title, formula, source and definition of a check.
struct Words(&'static str, &'static str, &'static str, &'static str);

impl Failure {
    /// Every way, in the order of the parts.
    pub const ALL: [Self; 23] = [
        Self::Yield,
        Self::Tension,
        Self::Buckling,
        Self::ThreadTension,
        Self::EndRadial,
        Self::EndAxial,
        Self::EndCombined,
        Self::EndShank,
        Self::BoltShear,
        Self::BoltTension,
        Self::BoltCombined,
        Self::BoltBending,
        Self::BoltShearBending,
        Self::Slip,
        Self::Bearing,
        Self::TearOut,
        Self::NetSection,
        Self::TabBending,
        Self::TabRoot,
        Self::TubeWall,
        Self::Punching,
        Self::Weld,
        Self::WeldNormal,
    ];

    /// What it is called.
    pub fn title(self) -> &'static str {
        self.words().0
    }

    /// Its formula in plain text.
    pub fn formula(self) -> &'static str {
        self.words().1
    }

    /// Where the formula and its factors come from.
    pub fn source(self) -> &'static str {
        self.words().2
    }

    /// What each symbol is, and what the check leaves out.
    pub fn definition(self) -> &'static str {
        self.words().3
    }

    fn words(self) -> Words {
        match self {
            Self::Yield => Words(
                "yield of the tube or bar",
                "sqrt(sigma^2 + 3 tau^2) <= f_y; sigma = N/A + r_y M_y/W_y + r_z M_z/W_z; r = sec(pi/2 sqrt(P/P_E))",
                "von Mises, as in machine-design texts and EN 1993-1-1 6.2.1(5); r is the secant \
                 formula of J. Gere, Mechanics of Materials, 11.5 (its ex. 11.3 read in an open transcription); the rest remembered",
                "sigma is the stress along the member and tau the shear stress of torque and shear force at the worst point: for a \
                 box its walls from corner to corner, for a round section any point of its skin, for a flat its sides from corner to \
                 corner and its core. A push P raises bending by r, with P_E Euler's force about that axis, as if the moment were even \
                 all along, which is the worst. \
                 Left out: welds and holes, corner radii (sharp corners are taken), the squashing of a box where a force comes in, \
                 wear from repeated loading.",
            ),
            Self::Tension => Words(
                "tension of the tube or bar",
                "N <= A f_y/gamma_M0",
                "EN 1993-1-1 6.2.3 with gamma_M0 = 1.0 (national annexes may differ); remembered",
                "N is the pull, A the whole section, f_y the yield strength. Left out: holes and threads, which have their own checks, \
                 and bending, which is in the check of yield.",
            ),
            Self::Buckling => Words(
                "buckling",
                "P <= pi^2 E A/s^2 where s > C_c, otherwise A f_y (1 - f_y s^2/(4 pi^2 E)); s = K L/sqrt(I/A); \
                 C_c = sqrt(2 pi^2 E/f_y)",
                "Euler and Johnson, as in machine-design texts (worked examples read in an open transcription of D. Wentzell, \
                 Machine Design for Technology Students, ex. 3.5 and 3.6); curve c of EN 1993-1-1 6.3.1, remembered",
                "P is the push, L the length between the balls, K the end factor, I the smaller second moment. No factor of safety is \
                 in it, and the strut is taken as straight: N_b among the figures is what the standard for buildings allows for a tube \
                 as crooked as it may be delivered, at most a third less. Left out: bending from loads across or eccentric ends, \
                 buckling of thin walls.",
            ),
            Self::ThreadTension => Words(
                "thread pulled apart",
                "N <= 0.9 f_ub A_s/gamma_M2",
                "EN 1993-1-8 table 3.4 with gamma_M2 = 1.25; stress area of ISO 898-1 or ASME B1.1; read in open guides",
                "N is the pull along the thread, f_ub the tensile strength of the shank, A_s its stress area. Left out: stripping of \
                 a thread screwed in too short (allow one diameter in steel, one and a half in weaker metal), jam nuts, wear from \
                 repeated loading.",
            ),
            Self::EndRadial => Words(
                "rod end across its hole",
                "F_r <= C_r",
                "rating of the maker's sheet",
                "F_r is the part of the force across the hole, C_r the maker's static rating. Left out: wear, play, and loads that \
                 change sign, for which makers ask for two to eight times the load.",
            ),
            Self::EndAxial => Words(
                "rod end along its hole",
                "F_a <= C_a",
                "rating of the maker's sheet; without one a tenth of the radial rating (makers' design pages give 10 to 20 %; read)",
                "F_a is the part of the force along the hole, C_a the maker's static rating that way. Left out: wear and play. A washer \
                 wider than the housing's hole keeps the link on if the ball is pushed out.",
            ),
            Self::EndCombined => Words(
                "rod end across and along its hole",
                "F_r/C_r + F_a/C_a <= 1",
                "linear interaction, our own choice on the safe side: makers' sheets have their own factors",
                "F_r, F_a are the parts of the force across and along the hole, C_r, C_a the ratings.",
            ),
            Self::EndShank => Words(
                "shank of the rod end",
                "F_s/A_s + 32 F_q l/(pi d_3^3) <= f_yb",
                "elastic bending of a round bar at the root of the thread (ISO 724); makers' ratings leave bending out (read)",
                "F_s is the force along the shank, F_q the one across it, l the arm from the centre of the ball to the jam nut, d_3 the \
                 diameter at the root, A_s the stress area. Left out: the notch of the thread under repeated loading, the \
                 tightening of the jam nut.",
            ),
            Self::BoltShear => Words(
                "bolt sheared",
                "F_v <= alpha_v f_ub A/gamma_M2 in each plane",
                "EN 1993-1-8 table 3.4 with gamma_M2 = 1.25 (national annexes may differ); read in open guides",
                "F_v is the force in one plane; A is the shank's area with alpha_v = 0.6, or where the thread reaches into the plane \
                 the stress area A_s with 0.6 up to class 8.8 and 0.5 for 10.9 and harder. Left out: repeated loading, and a plane \
                 that carries more than its half because the parts are unlike.",
            ),
            Self::BoltTension => Words(
                "bolt pulled apart",
                "F_t <= 0.9 f_ub A_s/gamma_M2",
                "EN 1993-1-8 table 3.4 with gamma_M2 = 1.25; read in open guides",
                "F_t is the force along the bolt, A_s the stress area. Left out: prying of a thin bracket, which adds to F_t, the head \
                 pulling through, repeated loading.",
            ),
            Self::BoltCombined => Words(
                "bolt sheared and pulled",
                "F_v/F_v,Rd + F_t/(1.4 F_t,Rd) <= 1",
                "EN 1993-1-8 table 3.4; read in open guides",
                "F_v and F_t are shear in one plane and tension, with their resistances. Tension alone has its own check.",
            ),
            Self::BoltBending => Words(
                "bolt bent",
                "F/8 (b + 4c + 2a) <= 1.5 W f_yb/gamma_M0 between two tabs; F (b/2 + c + a/2) out of one tab",
                "EN 1993-1-8 table 3.10 and figure 3.11 (resistance read in an extract, moment remembered); from one tab by statics",
                "F is the force across the bolt, a the thickness of a tab, b the width of what it carries, c the gap or spacer on \
                 each side, W the section modulus of the shank, or of the root where the thread reaches in. Left out: what a tight \
                 clamp through stiff spacers takes off the bending.",
            ),
            Self::BoltShearBending => Words(
                "bolt bent and sheared",
                "sqrt((M/M_Rd)^2 + (F_v/F_v,Rd)^2) <= 1",
                "EN 1993-1-8 table 3.10 (read in an extract), as the root of the sum so that it grows with the load",
                "M and F_v are bending and shear in one plane, with their resistances.",
            ),
            Self::Slip => Words(
                "clamped joint slips",
                "F <= mu n (F_p,C - 0.8 F_t)/gamma_M3",
                "EN 1993-1-8 3.9 with k_s = 1 (plain holes) and gamma_M3 = 1.25; remembered",
                "mu is the friction, n the surfaces that rub, F_p,C the clamping force, 0.7 f_ub A_s when torqued to it, F_t a pull along \
                 the bolt. Only for a bolt whose torque was measured. Left out: settling of paint, loss of torque.",
            ),
            Self::Bearing => Words(
                "edge of the hole crushed",
                "F <= t d min(1.5 f_y/gamma_M0, 1.5 f_u/gamma_M2)",
                "EN 1993-1-8 table 3.10 (pins; read in an extract) and 3.6.1(10) (a single bolt; remembered): the smaller",
                "F is the force in the plane of one plate, t its thickness, d the bolt, f_y and f_u the strengths of the plate (f_u of the \
                 bolt if less). The two sources differ: pins keep to yield so that they still turn, bolts may dent their hole. Left out: \
                 hammering by a loose bolt.",
            ),
            Self::TearOut => Words(
                "bolt torn out to the edge",
                "F <= min(2 t (e_1 - d_0/2 cos 40 deg) 0.6 f_u, k_1 alpha_b f_u d t)/gamma_M2; alpha_b = min(e_1/(3 d_0), f_ub/f_u, 1); \
                 k_1 = min(2.8 e_2/d_0 - 1.7, 2.5)",
                "E. F. Bruhn, Analysis and Design of Flight Vehicle Structures, D1 (remembered; divided by gamma_M2 as the other is), and \
                 EN 1993-1-8 table 3.4 (read in open guides): the smaller",
                "t is the thickness of one plate, d_0 the hole, d the bolt, e_1 the distance from the hole's centre to the edge towards \
                 which it is pulled and e_2 to the edge beside. A force across counts by its share of the resistance that way. The two \
                 sources differ because one was made for thin aircraft lugs and the other for bolted plates. Left out: repeated loading.",
            ),
            Self::NetSection => Words(
                "parted beside the hole",
                "N <= min(0.9 A_net f_u/gamma_M2, A f_y/gamma_M0)",
                "EN 1993-1-1 6.2.3 with gamma_M2 = 1.25; remembered",
                "N is the pull on one plate, or on the tube whose end is tapped; A_net what is left beside the hole, A the whole width. \
                 Left out: the higher stress beside a hole under repeated loading.",
            ),
            Self::TabBending => Words(
                "tab bent by a load beside it",
                "F/((w - d_0) t) + 6 F e/((w - d_0) t^2) <= f_y/gamma_M0",
                "elastic bending of a plate at its hole; our own reckoning, no standard",
                "F is the force along the tab, e the distance from the middle of the plate to the line of the force, w the width, d_0 the \
                 hole, t the thickness. Left out: what a clamped bolt or a second plate takes off the bending.",
            ),
            Self::TabRoot => Words(
                "tab at its weld",
                "sqrt((F_l/(b t) + 6 (F_l e + F_h h)/(b t^2) + 6 F_q h/(t b^2))^2 + 3 tau^2) <= f_y/gamma_M0; \
                 tau = 1.5 sqrt(F_q^2 + F_h^2)/(b t) + 3 F_q e/(b t^2)",
                "elastic cantilever; our own reckoning, no standard; torsion of a thin plate as in texts on strength of materials",
                "F_l, F_q, F_h are the forces along the tab, across it and along the hole; h is the height of the hole over the weld, b the \
                 width at the weld, e the offset, t the thickness. Of a clevis one plate alone takes F_h. Left out: the weld, which has \
                 its own check, gussets, and repeated loading, under which tabs crack at their weld.",
            ),
            Self::TubeWall => Words(
                "wall of the tube under a tab",
                "N + 4 M/h_1 <= k f_y0 t_0^2 (2 h_1/b_0 + 4 sqrt(1 - t_1/b_0))/gamma_M5; round: k 5 f_y0 t_0^2 (1 + 0.25 h_1/d_0)/gamma_M5",
                "EN 1993-1-8 tables 7.3 and 7.13, a plate along the tube, gamma_M5 = 1.0 (7.13 read in a damaged copy, its divisor \
                 1 - t_1/b_0 left out: smaller; the rest remembered); moment as a couple of two half plates, our own reckoning",
                "N is the force square to the face, M the moment in the plane of the plate, t_0 the wall, b_0 the face or d_0 the diameter, \
                 h_1 and t_1 length and thickness of the plate, k what the pressure n in the tube leaves: 1.3 (1 - n) up to 1, round \
                 1 - 0.3 n (1 + n). Above 355 MPa a tenth is taken off f_y0. Left out: a push along the hole, which a bare wall hardly \
                 takes at all: put a gusset there, or let the plate reach to a corner, which is stronger.",
            ),
            Self::Punching => Words(
                "tab punches through the wall",
                "N + 6 M/h_1 <= 2 t_0 h_1 f_y0/(sqrt(3) gamma_M0)",
                "EN 1993-1-8 table 7.3, punching shear; remembered",
                "N is the force square to the face, M the moment in the plane of the plate, t_0 the wall, h_1 the length of the plate along \
                 which it shears on both sides. Left out: repeated loading.",
            ),
            Self::Weld => Words(
                "fillet weld",
                "sqrt(sigma_p^2 + 3 (tau_p^2 + tau_l^2)) <= f_u/(beta_w gamma_M2)",
                "EN 1993-1-8 4.5.3.2 and table 4.1 with gamma_M2 = 1.25 (read in open guides); stresses by the elastic line method, as in \
                 machine-design texts. Where faces are not given all that is square to a weld counts as tau_p: 4.5.3.3",
                "sigma_p is the stress square to the throat, tau_p and tau_l the shear in it square to the weld and along it, f_u the tensile \
                 strength of the weaker part or of the filler if less, beta_w by its yield strength. The throat is 0.707 of the leg, over \
                 the whole length: leave craters out of it. Left out: faults, burnt edges, weakening of drawn or hardened tube beside the \
                 weld (give its strength as welded), bending of a single fillet about its own root, repeated loading.",
            ),
            Self::WeldNormal => Words(
                "fillet weld square to its throat",
                "sigma_p <= 0.9 f_u/gamma_M2",
                "EN 1993-1-8 4.5.3.2 with gamma_M2 = 1.25; read in open guides",
                "sigma_p is the greatest stress square to a throat, f_u the tensile strength of the weaker part or of the filler if less.",
            ),
        }
    }
}
