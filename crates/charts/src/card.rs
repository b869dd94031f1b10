//! The card on which every picture stands: a ruled head with title, car and state; the drawing; remarks in words.

use crate::geometry::{Rect, at};
use crate::ink::Line;
use crate::picture::{Look, Picture, PictureTable};
use crate::svg::{Anchor, Hand, Writer};
use crate::text::wrapped;

/// Size of a remark.
const REMARK: f64 = 14.0;
/// From one line of remarks to the next.
const REMARK_LINE: f64 = 21.0;
const FONTS: &str = "system-ui, -apple-system, 'Segoe UI', Roboto, 'Noto Sans', 'DejaVu Sans', sans-serif";

/// A card being filled, from top to bottom.
#[derive(Clone, Debug)]
pub(crate) struct Card<'l> {
    pub(crate) look: &'l Look<'l>,
    pub(crate) out: Writer,
    /// Down to here it is filled.
    pub(crate) filled: f64,
    slug: &'static str,
    title: String,
    said: Vec<String>,
    /// How much of what is said already stands on the card.
    written: usize,
}

impl<'l> Card<'l> {
    /// A card with its head.
    pub(crate) fn new(look: &'l Look<'l>, slug: &'static str, title: impl Into<String>) -> Self {
        let mut card = Self {
            look,
            out: Writer::default(),
            filled: 4.0,
            slug,
            title: title.into(),
            said: Vec::new(),
            written: 0,
        };
        if look.head {
            card.head();
        }
        card
    }

    pub(crate) fn width(&self) -> f64 {
        self.look.width.units()
    }

    /// Left and right edge of what is drawn.
    pub(crate) fn sides(&self) -> (f64, f64) {
        (4.0, self.width() - 4.0)
    }

    fn head(&mut self) {
        let (left, right) = self.sides();
        let fields: Vec<(&str, &str)> = [("car", self.look.car), ("asked", self.look.state)]
            .into_iter()
            .filter(|(_, value)| !value.trim().is_empty())
            .collect();
        let out = &mut self.out;
        out.group("head");
        out.boxed(
            "head-bar",
            &Rect::new(left, 3.0, right, 7.0),
            0.0,
            crate::ink::INK,
            None,
        );
        let (small, plain) = (Hand::plain("field-name", 14.0), Hand::plain("field", 14.0));
        let bottom = if self.look.narrow() {
            let title = Hand::plain("head-title", 16.0).bold();
            out.text_in(title, &self.title, at(left, 27.0), right - left);
            let mut bottom = 37.0;
            if !fields.is_empty() {
                out.line(Line::Hair, &[at(left, bottom), at(right, bottom)]);
                let share = (right - left) / if fields.len() > 1 { 2.0 } else { 1.0 };
                for (start, (name, value)) in [left, left + share].into_iter().zip(&fields) {
                    if start > left {
                        out.line(
                            Line::Hair,
                            &[at(start - 6.0, bottom), at(start - 6.0, bottom + 40.0)],
                        );
                    }
                    out.text(small, name, at(start, bottom + 15.0));
                    out.text_in(plain, value, at(start, bottom + 32.0), share - 12.0);
                }
                bottom += 40.0;
            }
            bottom
        } else {
            // The title first; what is left of the row is the fields'.
            let title = Hand::plain("head-title", 19.0).bold();
            let room = right - left - title.width(&self.title) - 8.0 - 24.0 * as_number(fields.len());
            let mut wide: Vec<f64> = fields
                .iter()
                .map(|(name, value)| plain.width(value).max(small.width(name)).max(50.0) + 1.0)
                .collect();
            // Too wide together: whichever is over its fair share gives way.
            let fair = (room / as_number(fields.len().max(1))).max(51.0);
            let modest: f64 = wide.iter().filter(|wide| **wide <= fair).sum();
            let greedy = wide.iter().filter(|wide| **wide > fair).count();
            let most = ((room - modest) / as_number(greedy.max(1))).max(fair);
            for wide in &mut wide {
                *wide = wide.min(most);
            }
            let mut start = right;
            for ((name, value), wide) in fields.iter().zip(&wide).rev() {
                out.text(small, name, at(start - wide, 23.0));
                out.text_in(plain, value, at(start - wide, 41.0), *wide);
                start -= wide + 12.0;
                out.line(Line::Hair, &[at(start, 7.0), at(start, 50.0)]);
                start -= 12.0;
            }
            out.text_in(title, &self.title, at(left, 35.0), start - left - 4.0);
            50.0
        };
        out.line(Line::Rule, &[at(left, bottom), at(right, bottom)]);
        out.close("g");
        self.filled = bottom + 2.0;
    }

    /// What is said in words: in the remarks and to who cannot see the picture.
    pub(crate) fn say(&mut self, remark: impl Into<String>) {
        self.said.push(remark.into());
    }

    /// Nothing to draw: the reason, in words, on the ruled card.
    pub(crate) fn empty(&mut self, reason: &str) {
        let (left, right) = self.sides();
        let hand = Hand::plain("empty", 16.0).anchored(Anchor::Middle);
        let lines = wrapped(reason, hand.size, right - left - 24.0);
        let mut y = self.filled + 30.0;
        self.out.group("nothing");
        self.out.line(Line::Hair, &[at(left, y), at(right, y)]);
        for line in &lines {
            y += 30.0;
            self.out.text(hand, line, at(f64::midpoint(left, right), y - 8.0));
            self.out.line(Line::Hair, &[at(left, y), at(right, y)]);
        }
        y += 30.0;
        self.out.line(Line::Hair, &[at(left, y), at(right, y)]);
        self.out.close("g");
        self.filled = y;
        self.said.insert(self.written, reason.to_owned());
        self.written += 1;
    }

    /// The remarks, each on its line.
    fn remarks(&mut self, written: bool) {
        if !written || self.said.len() <= self.written {
            return;
        }
        let (left, right) = self.sides();
        let hand = Hand::plain("remark", REMARK);
        self.out.group("remarks");
        let mut y = self.filled + 6.0;
        for remark in &self.said[self.written..] {
            for (index, line) in wrapped(remark, REMARK, right - left - 16.0).iter().enumerate() {
                y += REMARK_LINE;
                if index == 0 {
                    let dash = Rect::new(left, y - 10.0, left + 3.0, y + 1.0);
                    self.out.boxed("remark-mark", &dash, 0.0, crate::ink::INK, None);
                }
                self.out.text(hand, line, at(left + 12.0, y));
                self.out
                    .line(Line::Hair, &[at(left, y + 5.0), at(right, y + 5.0)]);
            }
        }
        self.out.close("g");
        self.filled = y + 5.0;
    }

    /// The finished picture. `remarked`: whether what was said is also written under the drawing.
    pub(crate) fn finish(mut self, remarked: bool, table: PictureTable) -> Picture {
        self.remarks(remarked);
        let (wide, high) = (self.width(), (self.filled + 6.0).ceil());
        let (title_id, words_id) = (self.look.id("title"), self.look.id("desc"));
        let mut svg = Writer::default();
        let mut view = String::from("0 0 ");
        crate::svg::push_number(&mut view, wide);
        view.push(' ');
        crate::svg::push_number(&mut view, high);
        svg.element("svg", &format!("picture {}", self.slug))
            .word("xmlns", "http://www.w3.org/2000/svg")
            .word("viewBox", &view)
            .number("width", wide)
            .number("height", high)
            .word("role", "img")
            .word("aria-labelledby", &format!("{title_id} {words_id}"))
            .word("font-family", FONTS)
            .word("font-variant", "tabular-nums")
            .open();
        let title = match self.look.car.trim() {
            "" => self.title.clone(),
            car => format!("{}: {car}", self.title),
        };
        svg.element("title", "name")
            .word("id", &title_id)
            .words(None, &title);
        let mut said = self.said.join(" ");
        if !self.look.state.trim().is_empty() {
            said = format!("Asked: {}. {said}", self.look.state.trim());
        }
        svg.element("desc", "said")
            .word("id", &words_id)
            .words(None, said.trim());
        svg.paper(&Rect::new(0.0, 0.0, wide, high));
        svg.append(&self.out);
        svg.close("svg");
        Picture {
            svg: svg.finish(),
            table,
            said: format!("{title}. {}", said.trim()),
        }
    }
}

/// A small count as a number.
fn as_number(count: usize) -> f64 {
    f64::from(u8::try_from(count).unwrap_or(u8::MAX))
}
