//! Tools of a small workshop, and what a car stands on.

use super::sketch::{Fill, Place, Sketch, apart, arc, beside, places, polar};

impl Sketch {
    /// A pressure gauge; its needle between 225° (nothing) and −45° (full).
    pub(super) fn gauge(&mut self, centre: Place, needle: f64) {
        self.circle(centre, 18.0, Fill::Paper);
        for tick in 0..=6_u8 {
            let angle = 225.0 - 45.0 * f64::from(tick);
            let (from, to) = (polar(centre, 13.0, angle), polar(centre, 16.0, angle));
            self.through(&[from, to]);
        }
        let (tip, tail) = (polar(centre, 12.0, needle), polar(centre, 4.0, needle + 180.0));
        self.through(&[tail, tip]);
        self.pin(centre);
    }

    /// A straight edge with its marks, so wide; marks are on its right seen along it.
    pub(super) fn ruler(&mut self, from: Place, to: Place, wide: f64) {
        self.bar(from, to, wide, Fill::Paper);
        let long = apart(from, to);
        let mut along = 5.0;
        let mut number = 1_u32;
        while along < long - 2.0 {
            let deep = if number.is_multiple_of(5) { 0.62 } else { 0.34 };
            let edge = beside(from, to, along, wide / 2.0);
            let inner = beside(from, to, along, wide / 2.0 - wide * deep);
            self.through(&[edge, inner]);
            along += 5.0;
            number += 1;
        }
    }

    /// A vernier between two places, its jaws reaching them from the right of the way between, its beam going on so far.
    pub(super) fn vernier(&mut self, from: Place, to: Place, reach: f64, on: f64) {
        let long = apart(from, to);
        let sign = reach.signum();
        // So far along, so far out on the beam's side.
        let at = |along: f64, out: f64| beside(from, to, along, sign * out);
        let reach = reach.abs();
        // The beam, then the fixed jaw, then the sliding one with its slide.
        self.shape(
            &[
                at(-9.0, reach),
                at(long + on, reach),
                at(long + on, reach + 9.0),
                at(-9.0, reach + 9.0),
            ],
            Fill::Paper,
        );
        self.shape(
            &[
                at(0.0, -7.0),
                at(0.0, reach),
                at(-9.0, reach),
                at(-9.0, reach * 0.45),
                at(-2.5, -7.0),
            ],
            Fill::Paper,
        );
        self.shape(
            &[
                at(long, -7.0),
                at(long + 2.5, -7.0),
                at(long + 9.0, reach * 0.45),
                at(long + 9.0, reach - 2.0),
                at(long + 26.0, reach - 2.0),
                at(long + 26.0, reach + 12.0),
                at(long, reach + 12.0),
            ],
            Fill::Tint,
        );
        for mark in 0..5_u8 {
            let along = long + 4.0 + 4.0 * f64::from(mark);
            self.through(&[at(along, reach + 6.0), at(along, reach + 12.0)]);
        }
    }

    /// A luggage scale from its hook to its handle.
    pub(super) fn luggage_scale(&mut self, hook: Place, handle: Place) {
        let long = apart(hook, handle);
        let at = |along: f64, aside: f64| beside(hook, handle, along, aside);
        self.through(&[at(0.0, 0.0), at(12.0, 0.0)]);
        let body = [
            at(12.0, -9.0),
            at(long - 14.0, -9.0),
            at(long - 14.0, 9.0),
            at(12.0, 9.0),
        ];
        self.shape(&body, Fill::Paper);
        self.shape(
            &[
                at(17.0, -5.0),
                at(long - 19.0, -5.0),
                at(long - 19.0, 5.0),
                at(17.0, 5.0),
            ],
            Fill::Tint,
        );
        self.through(&[at(long - 14.0, 0.0), at(long - 4.0, 0.0)]);
        self.shape(
            &[
                at(long - 5.0, -12.0),
                at(long, -12.0),
                at(long, 12.0),
                at(long - 5.0, 12.0),
            ],
            Fill::Ink,
        );
    }

    /// A flat scale under a wheel, by its top's middle.
    pub(super) fn platform(&mut self, (x, y): Place) {
        self.block(x - 26.0, y, x + 26.0, y + 4.0, Fill::Paper);
        self.block(x - 21.0, y + 4.0, x + 21.0, y + 9.0, Fill::Tint);
    }

    /// A jack stand by the middle of its saddle, down to the floor.
    pub(super) fn stand(&mut self, (x, y): Place, floor: f64) {
        let foot = ((floor - y) * 0.42).clamp(9.0, 22.0);
        self.shape(
            &places(&[
                x - 3.0,
                y + 3.0,
                x + 3.0,
                y + 3.0,
                x + foot,
                floor,
                x - foot,
                floor,
            ]),
            Fill::Tint,
        );
        self.block(x - 7.0, y, x + 7.0, y + 4.0, Fill::Paper);
    }

    /// A chock against a wheel that stands at its right (`side` 1) or at its left (−1).
    pub(super) fn chock(&mut self, (x, floor): Place, side: f64) {
        self.shape(
            &places(&[x, floor, x - 14.0 * side, floor, x - 2.0 * side, floor - 10.0]),
            Fill::Ink,
        );
    }

    /// A torque wrench from the hub to its grip.
    pub(super) fn torque_wrench(&mut self, hub: Place, grip: Place) {
        let long = apart(hub, grip);
        let at = |along: f64, aside: f64| beside(hub, grip, along, aside);
        self.bar(at(6.0, 0.0), at(long - 34.0, 0.0), 5.0, Fill::Paper);
        self.bar(at(long - 62.0, 0.0), at(long - 38.0, 0.0), 10.0, Fill::Tint);
        self.bar(at(long - 34.0, 0.0), at(long, 0.0), 9.0, Fill::Ink);
        self.circle(hub, 8.0, Fill::Paper);
        self.circle(hub, 3.5, Fill::Tint);
    }

    /// A plumb line, from where it hangs to the floor.
    pub(super) fn plumb(&mut self, (x, y): Place, floor: f64) {
        self.thin(&[x, y, x, floor - 12.0]);
        self.shape(
            &places(&[x - 3.5, floor - 12.0, x + 3.5, floor - 12.0, x, floor - 1.0]),
            Fill::Ink,
        );
    }

    /// A wheel from its side.
    pub(super) fn wheel(&mut self, hub: Place, radius: f64) {
        self.circle(hub, radius, Fill::Tint);
        self.circle(hub, radius * 0.66, Fill::Paper);
        self.pin(hub);
    }

    /// A car from its left side, by the front wheel's hub, so many units a metre, its rear raised by so many degrees.
    /// Gives the rear hub.
    pub(super) fn car(&mut self, hub: Place, unit: f64, raised: f64) -> Place {
        let (sin, cos) = raised.to_radians().sin_cos();
        let put = |(along, up): Place| {
            (
                hub.0 + unit * (along * cos - up * sin),
                hub.1 - unit * (along * sin + up * cos),
            )
        };
        let mut body: Vec<Place> = places(&[
            -0.40, -0.06, -0.78, 0.00, -0.84, 0.20, -0.76, 0.38, -0.30, 0.52, 0.38, 0.62, 0.98, 1.06, 1.30,
            1.12, 1.92, 1.10, 2.62, 0.74, 2.98, 0.68, 3.06, 0.40, 3.00, 0.06, 2.90, -0.04,
        ]);
        let arch = |at: f64| -> Vec<Place> {
            arc((at, 0.0), 0.40, 0.0, 180.0)
                .into_iter()
                .map(|(x, y)| (x, -y))
                .collect()
        };
        body.extend(arch(2.5));
        body.extend(places(&[2.10, -0.10, 0.40, -0.10]));
        body.extend(arch(0.0));
        let body: Vec<Place> = body.into_iter().map(put).collect();
        self.shape(&body, Fill::Paper);
        let glass: Vec<Place> = places(&[
            0.62, 0.64, 1.02, 0.98, 1.32, 1.03, 1.86, 1.01, 2.34, 0.74, 0.62, 0.64,
        ])
        .into_iter()
        .map(put)
        .collect();
        self.through(&glass);
        let pillar: Vec<Place> = places(&[1.46, 1.02, 1.52, 0.69, 1.52, 0.02])
            .into_iter()
            .map(put)
            .collect();
        self.through(&pillar);
        let rear = put((2.5, 0.0));
        self.wheel(hub, unit * 0.3);
        self.wheel(rear, unit * 0.3);
        rear
    }

    /// A wheel from above, and where its shaft comes in.
    pub(super) fn tread(&mut self, (x, y): Place, lifted: bool) {
        let fill = if lifted { Fill::Paper } else { Fill::Tint };
        self.block(x - 17.0, y - 8.0, x + 17.0, y + 8.0, fill);
        if lifted {
            self.thin(&[x - 17.0, y - 8.0, x + 17.0, y + 8.0]);
            self.thin(&[x - 17.0, y + 8.0, x + 17.0, y - 8.0]);
        }
    }

    /// A handbrake's lever from its pivot to its grip: the hand's double line, and the grip.
    pub(super) fn lever(&mut self, pivot: Place, grip: Place) {
        let long = apart(pivot, grip);
        let neck = beside(pivot, grip, long - 34.0, 0.0);
        self.coded(crate::ink::Line::Hand, &[pivot.0, pivot.1, neck.0, neck.1]);
        self.bar(neck, grip, 11.0, Fill::Tint);
        self.circle(pivot, 4.5, Fill::Paper);
        self.pin(pivot);
    }

    /// A brake's disc with hub and caliper from its side; the caliper at an angle.
    pub(super) fn disc(&mut self, centre: Place, radius: f64, caliper: f64) {
        self.circle(centre, radius, Fill::Paper);
        self.circle(centre, radius * 0.52, Fill::Paper);
        self.shape(
            &super::sketch::sector(
                centre,
                radius * 0.50,
                radius * 1.12,
                caliper - 32.0,
                caliper + 32.0,
            ),
            Fill::Tint,
        );
        self.pin(centre);
    }

    /// A bleed nipple that points along a direction; gives its end.
    pub(super) fn nipple(&mut self, from: Place, degrees: f64) -> Place {
        let end = polar(from, 11.0, degrees);
        self.bar(from, end, 5.0, Fill::Paper);
        end
    }
}
