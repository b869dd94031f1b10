//! Pictures of a car's brakes as SVG, for page, terminal and paper alike, each with its figures as a [`PictureTable`].
//!
//! A picture is made in two steps. First its data are gathered from the engine (`SplitCurves::of`, `PullCurve::of` and so
//! on) into a plain struct with public fields; then `draw` turns them into a [`Picture`] for a [`Look`]: units, width,
//! the car's name, a prefix for ids. No physics happens here, no file is touched, and the same data give the same bytes.
//!
//! One code of lines holds everywhere and needs no colour: front solid, rear dashed, ideal or limit thin dotted, the
//! hand a double line. Every element carries presentation attributes and a class and no style of its own, so that a
//! page's stylesheet can turn the drawing dark or fit it for print, while a file by itself is black on white. Whatever
//! is drawn has real text, a title and a description; whoever cannot see it reads the table.
//!
//! | class | what it is on |
//! | --- | --- |
//! | `picture` and `split`, `lock-order`, `utilisation`, `pull`, `valve`, `logged`, `plan`, `lines-drawing`, `turn`, `turn-map`, `stage-heat`, `hold`, `measuring` | the root |
//! | `line` with `front`, `rear`, `ideal`, `limit`, `hand`, `car`, `joined` | curves and runs (`stroke`) |
//! | `hand-core`, `paper-line` | strips of paper inside a double line and under a crossing run (`stroke`) |
//! | `paper` | the ground, and what lies under labels (`fill`) |
//! | `rule`, `outline`, `hair` | axes and fields, outlines, ruling (`stroke`) |
//! | `mark`, `shape`, `tyre` | marks of points, components, wheels (`fill` and `stroke`) |
//! | `dimension` | what is measured, from arrow to arrow (`stroke`, `fill`) |
//! | `share-bar` | bars (`fill` and `stroke`) |
//! | `stands`, `rolls` with `front`, `rear` | tracks of wheels (`stroke`) |
//! | `cell`, `hatch` | fields of a map (`fill`, `stroke`) |
//!
//! A stylesheet that changes the ground changes every `fill` and `stroke` of the paper's or the ink's colour: select by
//! attribute (`[fill="#ffffff"]`) or by class.

mod axes;
mod bar_turns;
mod bars;
mod card;
mod drawing;
mod from_above;
mod geometry;
mod heat;
mod ink;
mod labels;
mod lock_order;
mod logged;
mod measuring;
mod part;
mod picture;
mod pull;
mod split;
mod states;
mod svg;
mod text;
mod turn;
mod utilisation;
mod valve;

pub use bar_turns::{BarTurns, BarTurnsRow};
pub use bars::{Bar, BarGroup, Bars};
pub use drawing::{DrawnJoint, JointSign, LinesDrawing};
pub use from_above::{AtWheel, FromAbove, WheelFigure, WheelState};
pub use heat::{HoldCurves, HoldLine, StageHeat};
pub use lock_order::LockOrder;
pub use logged::{LoggedMoment, LoggedStop};
pub use measuring::HowMeasured;
pub use picture::{Look, Picture, PictureTable, ToRun, Width};
pub use pull::PullCurve;
pub use split::{ForceScale, SplitCurves};
pub use states::{CellFrame, StateCell, StatesGrid};
pub use turn::{TurnFromAbove, TurnMap, TurnRun};
pub use utilisation::UtilisationCurves;
pub use valve::ValveCurve;
