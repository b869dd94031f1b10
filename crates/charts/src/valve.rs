//! The bias valve: pressure out over pressure in, the knee, how far the knob moves it, and what was read on gauges.

use core::ops::Deref;

use engine::car::{KnobScale, Setting};
use engine::curves::{GaugePair, KneeOf, NamedKnee, Valve};
use quantity::si::Pressure;

use crate::axes::{ABOVE, Axis, BELOW, LABELS, Place, Plot};
use crate::card::Card;
use crate::geometry::{Point, at, clipped};
use crate::ink::Line;
use crate::labels::{Labels, Side, along};
use crate::picture::{Look, Picture, PictureTable};
use crate::svg::{Hand, polygon, polyline};
use wording::{Column, entered, named, ratio};

/// The picture of a bias valve.
#[derive(Clone, Debug, PartialEq)]
pub struct ValveCurve(pub Valve);

impl Deref for ValveCurve {
    type Target = Valve;

    fn deref(&self) -> &Valve {
        &self.0
    }
}

impl ValveCurve {
    /// Draws it.
    #[must_use]
    pub fn draw(&self, look: &Look<'_>) -> Picture {
        let mut card = Card::new(look, "valve", "Bias valve");
        let unit = look.units.pressure;
        let Some(set) = &self.set else {
            card.empty("No bias valve: the rear brakes get what the master cylinder makes.");
            return card.finish(true, self.table(look, Pressure::ZERO));
        };
        let highest = self
            .readings
            .iter()
            .flat_map(|reading| [reading.inlet.pa() * 1.15, reading.outlet.pa()])
            .chain([set.knee.pa() * 2.2, 60e5])
            .chain(self.others.iter().map(|other| other.knee.pa() * 1.25))
            .filter(|pressure| pressure.is_finite())
            .fold(0.0, f64::max);
        let (left, right) = card.sides();
        let place = Place {
            left,
            right,
            top: card.filled + ABOVE,
            height: if look.narrow() { 240.0 } else { 300.0 },
        };
        let top = Pressure::from_pa(highest);
        let outlets = self
            .others
            .iter()
            .chain(&self.set)
            .map(|set| self.behind(top, set.knee));
        let high = outlets
            .chain(self.readings.iter().map(|reading| reading.outlet))
            .map(Pressure::pa)
            .filter(|pressure| pressure.is_finite())
            .fold(0.0, f64::max);
        let plot = Plot::new(
            place,
            Axis::over("pressure before the valve", unit, 0.0, highest),
            Axis::over("pressure at the rear", unit, 0.0, high * 1.06),
        );
        plot.draw_ground(&mut card.out);
        let mut labels = Labels::within(plot.label_room());
        let spot = |inlet: Pressure, outlet: Pressure| plot.point(inlet.pa(), outlet.pa());
        let curve = |knee: Pressure| {
            [Pressure::ZERO, knee.min(top), top].map(|inlet| spot(inlet, self.behind(inlet, knee)))
        };
        let even = [spot(Pressure::ZERO, Pressure::ZERO), spot(top, top)];
        for piece in clipped(&even, &plot.area) {
            card.out.line(Line::Ideal, &piece);
            labels.avoid_line(&piece);
        }
        for other in &self.others {
            for piece in clipped(&curve(other.knee)[1..], &plot.area) {
                card.out.line(Line::RearEdge, &piece);
                labels.avoid_line(&piece);
            }
        }
        let set_curve = curve(set.knee);
        for piece in clipped(&set_curve, &plot.area) {
            card.out.line(Line::Rear, &piece);
            labels.avoid_line(&piece);
        }
        self.draw_marks(&mut card, &plot, &mut labels);
        let hand = Hand::plain("label", LABELS);
        let below = [
            Side::BelowRight,
            Side::Below,
            Side::AboveLeft,
            Side::Above,
            Side::Right,
        ];
        labels.name(
            hand.bold(),
            &name_of(set).replace(' ', "\u{A0}"),
            &along(&set_curve[1..], 0.35, 1.0),
            &below,
        );
        for other in &self.others {
            let points = along(&curve(other.knee)[1..], 0.3, 1.0);
            labels.name(hand, &name_of(other).replace(' ', "\u{A0}"), &points, &below);
        }
        let shown: Vec<Point> = clipped(&[spot(set.knee, set.knee), even[1]], &plot.area)
            .iter()
            .flat_map(|piece| along(piece, 0.2, 0.95))
            .collect();
        labels.name(
            hand,
            "unchanged",
            &shown,
            &[Side::AboveLeft, Side::Left, Side::Above],
        );
        labels.draw(&mut card.out);
        card.filled = plot.area.bottom + BELOW;
        self.say(&mut card, set);
        let table = self.table(look, top);
        card.finish(true, table)
    }

    fn draw_marks(&self, card: &mut Card<'_>, plot: &Plot, labels: &mut Labels) {
        let hand = Hand::plain("label", LABELS);
        let Some(set) = &self.set else { return };
        let point = plot.point(set.knee.pa(), set.knee.pa());
        if plot.area.has(point) {
            let foot = [point, at(point.x, plot.area.bottom)];
            card.out.line(Line::Limit, &foot);
            labels.avoid_line(&foot);
            let triangle = [at(0.0, -3.0), at(6.0, 8.0), at(-6.0, 8.0)]
                .map(|corner| at(point.x + corner.x, point.y + corner.y));
            card.out.shape("mark knee", &polygon(&triangle), true);
            labels.avoid_mark(at(point.x, point.y + 3.0), 7.0);
        }
        let readings: Vec<(&GaugePair, Point)> = self
            .readings
            .iter()
            .map(|reading| (reading, plot.point(reading.inlet.pa(), reading.outlet.pa())))
            .filter(|&(_, point)| plot.area.has(point))
            .collect();
        for &(_, point) in &readings {
            let stroke = |dx: f64, dy: f64| {
                polyline(&[at(point.x - dx, point.y - dy), at(point.x + dx, point.y + dy)])
            };
            card.out
                .shape("mark reading", &(stroke(5.0, 5.0) + &stroke(5.0, -5.0)), false);
            labels.avoid_mark(point, 6.0);
        }
        if plot.area.has(point) {
            let words = format!("knee {}", card.look.units.say_pressure(set.knee)).replace(' ', "\u{A0}");
            labels.name(
                hand,
                &words,
                &[point],
                &[Side::AboveLeft, Side::Left, Side::Below, Side::BelowRight],
            );
        }
        for (reading, point) in readings {
            let words = if setting_of(reading).is_empty() {
                "read".to_owned()
            } else {
                format!("read, {}", setting_of(reading))
            };
            labels.name(
                hand,
                &words.replace(' ', "\u{A0}"),
                &[point],
                &[
                    Side::AboveRight,
                    Side::Right,
                    Side::Above,
                    Side::BelowRight,
                    Side::Below,
                ],
            );
        }
    }

    fn say(&self, card: &mut Card<'_>, set: &NamedKnee) {
        let units = card.look.units;
        let behind = if self.slope > 0.0 {
            format!(
                "above it the rear rises {} as fast as the inlet",
                ratio(self.slope)
            )
        } else {
            "above it the rear rises no more".to_owned()
        };
        card.say(format!(
            "The knee is at {}; {behind}.",
            units.say_pressure(set.knee)
        ));
        for reading in &self.readings {
            let setting = if setting_of(reading).is_empty() {
                String::new()
            } else {
                format!(" at {}", setting_of(reading))
            };
            card.say(format!(
                "Read{setting}: {} in, {} out; as set, this curve gives {}.",
                units.say_pressure(reading.inlet),
                units.say_pressure(reading.outlet),
                units.say_pressure(self.behind(reading.inlet, set.knee)),
            ));
        }
    }

    fn table(&self, look: &Look<'_>, top: Pressure) -> PictureTable {
        let unit = look.units.pressure;
        let mut points: Vec<(String, Pressure, Pressure)> = Vec::new();
        for set in self.set.iter().chain(&self.others) {
            points.push((format!("knee, {}", name_of(set)), set.knee, set.knee));
            points.push((
                format!("end of the curve, {}", name_of(set)),
                top,
                self.behind(top, set.knee),
            ));
        }
        for reading in &self.readings {
            let name = if setting_of(reading).is_empty() {
                "read".to_owned()
            } else {
                format!("read, {}", setting_of(reading))
            };
            points.push((name, reading.inlet, reading.outlet));
        }
        let column = Column::of(unit, points.iter().flat_map(|point| [point.1.pa(), point.2.pa()]));
        PictureTable {
            caption: "Bias valve: pressure behind it over pressure before it".into(),
            head: vec![
                "point".into(),
                named("before the valve", unit),
                named("at the rear", unit),
            ],
            rows: points
                .into_iter()
                .map(|(name, inlet, outlet)| vec![name, column.show(inlet.pa()), column.show(outlet.pa())])
                .collect(),
        }
    }
}

/// What a knee belongs to, in words.
fn name_of(knee: &NamedKnee) -> String {
    match knee.of {
        KneeOf::Set(setting, scale) => format!("as set, {}", setting_words(setting, scale)),
        KneeOf::KnobEnd(setting, scale) => setting_words(setting, scale),
        KneeOf::Fitted => "as fitted".to_owned(),
        KneeOf::Standing => "standing".to_owned(),
        KneeOf::LightRear => "light rear".to_owned(),
        KneeOf::LadenRear => "laden rear".to_owned(),
    }
}

/// At what setting gauges were read, in words; empty where nobody said.
fn setting_of(reading: &GaugePair) -> String {
    match reading.setting {
        None => String::new(),
        Some(Setting::Turns(turns)) => turns_words(turns.turns()),
        Some(Setting::Position(position)) => format!("position {position}"),
    }
}

fn setting_words(setting: f64, scale: KnobScale) -> String {
    match scale {
        KnobScale::Turns(_) => turns_words(setting),
        KnobScale::Positions(_) => {
            format!("position {}", wording::number(setting, crate::picture::bare(), 0))
        }
    }
}

fn turns_words(turns: f64) -> String {
    format!("{} turns", entered(turns))
}
