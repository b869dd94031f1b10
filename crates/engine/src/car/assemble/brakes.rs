use quantity::si::{Angle, Flex, Length, Mass, Temperature};

use super::super::brakes::{
    Brake, Caliper, CaliperLayout, Disc, DiscBrake, Drum, DrumBrake, Friction, Parking, ShoeAdjuster,
};
use super::super::key_id::KeyId;
use super::Bench;
use crate::lining::{ShoeGeometry, Shoes, factor_at, friction_radius};

/// Cold friction over warm where neither it nor a curve is given (from memory, judgement).
const COLD_OVER_WARM: f64 = 0.80;

impl Bench<'_> {
    pub(super) fn brake(&mut self, table: &str) -> Option<Brake> {
        match self.read.word(&KeyId::path_in(table, "kind"))? {
            "drum" => self.drum_brake(table).map(Brake::Drum),
            _ => self.disc_brake(table, true).map(Brake::Disc),
        }
    }

    pub(super) fn lever_brake(&mut self) -> Option<DiscBrake> {
        if !self.read.inputs().has_table("lever_brake") {
            return None;
        }
        self.read.word("lever_brake.kind");
        self.disc_brake("lever_brake", false)
    }

    fn disc_brake(&mut self, table: &str, has_disc: bool) -> Option<DiscBrake> {
        let at = |name: &str| KeyId::path_in(table, name);
        let layout = match self.read.word(&at("caliper.layout")) {
            Some("opposed") => Some(CaliperLayout::Opposed),
            Some(_) => Some(CaliperLayout::Sliding),
            None => {
                self.missing(
                    &at("caliper.layout"),
                    "opposed lists one side's pistons, sliding all there are",
                );
                None
            }
        };
        let pistons = self.read.list(&at("caliper.pistons"));
        if pistons.is_none() {
            self.missing(&at("caliper.pistons"), "a disc brake needs its piston diameters");
        }
        let parking = match self.read.word(&at("caliper.parking_mechanism")) {
            Some("in-caliper") => Parking::InCaliper,
            Some("in-caliper-gutted") => Parking::InCaliperGutted,
            Some("drum-in-disc") => Parking::DrumInDisc,
            _ => Parking::None,
        };
        let effective_radius = self.effective_radius(table);
        let friction = self.friction(&at("pad"));
        let pad_thickness = Length::from_m(self.read.si(&at("pad.thickness"))?);
        let disc = if has_disc { Some(self.disc(table)?) } else { None };
        let clearance = self.read.si_or(
            &at("volume.clearance"),
            "0.10 mm ± 0.05 mm",
            "from memory, judgement",
        )?;
        let clearance = Length::from_m(clearance);
        let flex = Flex::from_m3_pa(self.read.si(&at("volume.flex"))?);
        let (pistons, effective_radius) = (pistons?, effective_radius?);
        if let Some(edge) = disc.and_then(|disc: Disc| disc.outer_diameter)
            && effective_radius.m() > edge.m() / 2.0
        {
            self.refuse(
                &at("effective_radius"),
                "piston-off-the-disc",
                "the pads' force would act outside the disc",
                "measure from the middle of the hub to the middle of the pad; disc diameters are diameters, not radii",
            );
        }
        Some(DiscBrake {
            caliper: Caliper {
                layout: layout?,
                pistons: pistons.into_iter().map(Length::from_m).collect(),
                parking,
            },
            effective_radius,
            friction: friction?,
            pad_thickness,
            disc,
            clearance,
            flex,
        })
    }

    fn effective_radius(&mut self, table: &str) -> Option<Length> {
        let (radius, edges) = (
            KeyId::path_in(table, "effective_radius"),
            KeyId::path_in(table, "pad_edges"),
        );
        self.only_one(&radius, &edges);
        if !self.read.given(&edges) {
            return self
                .wanted(&radius, "or pad_edges, from the disc's centre")
                .map(Length::from_m);
        }
        match self.read.list(&edges)?[..] {
            [inner, outer] if inner < outer => {
                Some(friction_radius(Length::from_m(inner), Length::from_m(outer)))
            }
            _ => {
                self.refuse(
                    &edges,
                    "wrong-count",
                    "pad edges are two radii, the inner first",
                    "pad_edges = [\"104 mm\", \"150 mm\"]",
                );
                None
            }
        }
    }

    fn disc(&mut self, table: &str) -> Option<Disc> {
        let disc = format!("{table}.disc");
        let at = |name: &str| KeyId::path_in(&disc, name);
        let vented = self.read.flag(&at("vented"));
        let usual = if vented { "22 mm ± 3 mm" } else { "10 mm ± 2 mm" };
        let outer_diameter = self.read.given_si(&at("outer_diameter")).map(Length::from_m);
        let inner_diameter = self.read.given_si(&at("inner_diameter")).map(Length::from_m);
        if let (Some(outer), Some(inner)) = (outer_diameter, inner_diameter)
            && inner >= outer
        {
            self.refuse(
                &at("inner_diameter"),
                "contradiction",
                "the disc's friction ring has its inner edge outside its outer edge",
                "inner_diameter is the smaller of the two",
            );
        }
        Some(Disc {
            mass: Mass::from_kg(self.read.si(&at("mass"))?),
            outer_diameter,
            inner_diameter,
            thickness: Length::from_m(
                self.read
                    .si_or(&at("thickness"), usual, "from memory, judgement")?,
            ),
            vented,
        })
    }

    /// Friction of `<brake>.pad` or `<brake>.lining`.
    fn friction(&mut self, material: &str) -> Option<Friction> {
        let (warm_at, cold_at, curve_at) = (
            KeyId::path_in(material, "friction"),
            KeyId::path_in(material, "cold_friction"),
            KeyId::path_in(material, "friction_at"),
        );
        self.only_one(&cold_at, &curve_at);
        let warm = self.wanted(&warm_at, "give it, or say \"guess\"")?;
        let scale = warm / self.read.nominal_si(&warm_at).filter(|&nominal| nominal > 0.0)?;
        let mut at = Vec::new();
        for row in self.read.rows(&curve_at).unwrap_or_default() {
            if let [temperature, friction] = row[..] {
                at.push((Temperature::from_k(temperature), friction * scale));
            }
        }
        let sane = at.iter().all(|&(_, friction)| (0.02..=1.3).contains(&friction));
        if !at.windows(2).all(|pair| pair[0].0 < pair[1].0) || !sane {
            self.refuse(
                &curve_at,
                "bad-curve",
                "temperatures have to rise, and friction lies between 0.02 and 1.0",
                "friction_at = [[\"20 C\", 0.33], [\"150 C\", 0.41], [\"350 C\", 0.43]]",
            );
        }
        let cold = match self.read.given_si(&cold_at) {
            Some(cold) => cold,
            None if at.is_empty() => {
                self.read
                    .note_rule(&cold_at, "0.80 of the warm", "from memory, judgement");
                warm * COLD_OVER_WARM
            }
            None => crate::interpolate::clamped(&at, Temperature::from_celsius(20.0), Temperature::k),
        };
        Some(Friction { warm, cold, at })
    }

    fn drum_brake(&mut self, table: &str) -> Option<DrumBrake> {
        let at = |name: &str| KeyId::path_in(table, name);
        let cylinder_bore = self.wanted(&at("cylinder_bore"), "a drum brake has a wheel cylinder");
        let drum_radius = self.wanted(&at("drum_radius"), "a drum brake has a drum");
        let shoes = match self.read.word(&at("shoes")) {
            Some("two-leading") => Shoes::TwoLeading,
            Some("servo") => Shoes::Servo,
            _ => Shoes::LeadingTrailing,
        };
        let friction = self.friction(&at("lining"));
        let drum = Drum {
            mass: Mass::from_kg(self.read.si(&at("drum.mass"))?),
            width: Length::from_m(self.read.si(&at("drum.width"))?),
        };
        let adjuster = match self.read.word(&at("adjust")) {
            Some("lever-ratchet") => ShoeAdjuster::LeverRatchet,
            Some("automatic") => ShoeAdjuster::Automatic,
            _ => ShoeAdjuster::Manual,
        };
        let clearance = self.read.si_or(
            &at("volume.clearance"),
            "0.30 mm ± 0.15 mm",
            "from memory, judgement",
        )?;
        let flex = Flex::from_m3_pa(self.read.si(&at("volume.flex"))?);
        let (friction, drum_radius) = (friction?, Length::from_m(drum_radius?));
        let [factor, cold_factor] = self.shoe_factors(table, shoes, drum_radius, &friction)?;
        Some(DrumBrake {
            cylinder_bore: Length::from_m(cylinder_bore?),
            drum_radius,
            factor,
            cold_factor,
            friction,
            drum,
            adjuster,
            clearance: Length::from_m(clearance),
            flex,
        })
    }

    /// Shoe factor warm and cold.
    fn shoe_factors(
        &mut self,
        table: &str,
        shoes: Shoes,
        drum_radius: Length,
        friction: &Friction,
    ) -> Option<[f64; 2]> {
        let at = |name: &str| KeyId::path_in(table, name);
        let given = at("shoe_factor");
        let nominal = self.read.nominal_si(&at("lining.friction"))?;
        if !self.read.inputs().has_table(&at("shoe")) {
            let factor = self.wanted(&given, "a drum brake needs it, or the shoes' geometry under shoe")?;
            return Some([friction.warm, friction.cold].map(|now| factor_at(factor, nominal, now)));
        }
        self.only_one(&at("shoe.pivot_radius"), &given);
        let mut figure = |name: &str| self.wanted(&at(name), "the shoes' geometry needs it");
        let (pivot, heel) = (figure("shoe.pivot_radius"), figure("shoe.heel"));
        let (toe, arm) = (figure("shoe.toe"), figure("shoe.force_arm"));
        let geometry = ShoeGeometry {
            drum_radius,
            pivot_radius: Length::from_m(pivot?),
            heel: Angle::from_rad(heel?),
            toe: Angle::from_rad(toe?),
            force_arm: Length::from_m(arm?),
        };
        if geometry.heel >= geometry.toe {
            self.refuse(
                &at("shoe.toe"),
                "contradiction",
                "the lining ends before it starts",
                "heel is the smaller angle, both from the line through the pivot",
            );
            return None;
        }
        let upper = self
            .read
            .upper_si(&at("lining.friction"))
            .unwrap_or(friction.warm)
            .max(friction.warm);
        let factors = [friction.warm, friction.cold].map(|now| geometry.factor(shoes, now));
        match (factors, geometry.factor(shoes, upper)) {
            ([Some(warm), Some(cold)], Some(_)) => Some([warm, cold]),
            _ => {
                self.refuse(
                    &at("shoe.force_arm"),
                    "self-locking",
                    format!("with these shoes and friction up to {upper:.2} the leading shoe would grab and lock itself"),
                    "check the pivot radius, the force arm and the angles: they are measured from the drum's centre and the pivot",
                );
                None
            }
        }
    }
}
