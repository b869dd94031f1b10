//! The longer help texts, which teach.

/// Behind the help of `logbook`.
pub(crate) const LOGBOOK: &str = "\
Data that `due`, `prove` and `plan` read:
  fluid     {\"changed\": true}, {\"boils\": \"182 C\"}
  pads      {\"axle\": \"rear\", \"left\": \"6.2 mm\", \"fitted\": false}
  reading   {\"fluid\": \"158 C\"}; checks as `prove` writes them
  note      {\"event\": \"name\"}, {\"hoses\": \"fitted\"}, {\"step\": \"route\"}
  setting   {\"event\": \"name\"}
  joint     {\"joint\": \"name\", \"state\": \"dry\"}, {\"touched\": \"lever\"}

Examples (the car is invented):
  rearline logbook add tarn --kind setting --text \"2.5 turns, damp gravel\"
  rearline logbook add tarn --kind fluid --text new --data '{\"changed\":true}'
  rearline logbook list tarn --kind setting --newest 5
  rearline logbook strike tarn 1 --why \"wrong car\"
  rearline logbook due tarn
  rearline logbook verify tarn
  rearline logbook export tarn --format csv";

/// Behind the help of `proposal`.
pub(crate) const PROPOSAL: &str = "\
Examples (the car is invented):
  rearline proposal keep tarn small --with lever.bore=\"9/16 in\" --note lighter
  rearline proposal list tarn
  rearline compare tarn --proposal small
  rearline proposal take tarn small --key lever.bore
  rearline proposal drop tarn small";

/// Behind the help of `working`.
pub(crate) const WORKING: &str = "\
Examples (the cars are invented):
  rearline working tarn                  figures that explain themselves
  rearline working tarn travel_m         one of them, line by line
  rearline working sedge hand_force_n --cold --surface \"packed snow\"
  rearline working tarn knee_pa --wanted even --surface \"wet tarmac\"

A formula is written with + - * / ^ max() min() sqrt(); with the numbers in,
--json gives every digit, so that another program can check it.";

/// Behind the help of the whole.
pub(crate) const WHOLE: &str = "\
A car is a folder with a sheet in it, car.toml: what is on the car and what
was measured. Everything else is computed from that.

To begin:
  rearline                    makes ./cars with invented cars to look at, and
                              serves the workshop page
  rearline new fell           writes cars/fell/car.toml to fill in
  rearline check-sheet fell   says what is wrong or unusual on it
  rearline pressures fell --foot \"300 N\"
  rearline balance fell       which end locks first
  rearline lever fell         whether the hand stops the rear wheels

Exit status: 0 done, 1 a finding says stop (with --strict), 2 wrong input, 3 a
file or the disk would not do, 101 a fault of this program, 130 interrupted.

Computed figures do not replace a brake test at walking pace, then slowly, in
a safe place. The rules of the event, local law and whoever may approve a road
car decide what may be fitted.";

/// Behind the help of `build-book`.
pub(crate) const BUILD_BOOK: &str = "\
The same sheet, logbook, day, units, paper and build give the same bytes. A
book.pdf that this program did not print is never replaced.

Paper and units are those of preferences.toml beside the cars, where they are
written there: paper = \"Letter\", units = \"psi,in,lbf\".

Examples (the cars are invented):
  rearline build-book tarn
  rearline build-book tarn --paper Letter --units psi,in
  rearline build-book sedge --out sedge-autumn.pdf --on 2026-10-01
  rearline build-book tarn --json

The dash card is its last page: print that one at full size.";

/// Behind the help of `new`.
pub(crate) const NEW: &str = "\
Examples:
  rearline new fell
  rearline new \"fell mk2\" --cars /media/stick/cars
  rearline new fell --explain
  rearline new fell --with drivetrain.driven=rear --with rear_brake.kind=drum

On a terminal six questions come first: which wheels are driven, what brakes
the rear, how the circuits are split, booster, bias valve, handbrake. The sheet
then holds what such a car needs for a first answer. Each \"…\" is to be filled
in. What is not known yet may say \"guess\", and every result says so.";

/// Behind the help of `how`.
pub(crate) const HOW: &str = "\
A reading is NAME=VALUE, the value with its unit, and with a tolerance if there
is one; the card says which names it asks for.

Examples (the car is invented):
  rearline how                             the cards that there are
  rearline how lever.ratio                 the card of a figure
  rearline how lever.ratio a=278mm b=62mm  and the figure, worked out
  rearline how tyres.rolling_radius label=195/65R15
  rearline how lever.ratio --car tarn      and what that car has now
  rearline how raised-axle --svg raised.svg";

/// Behind the help of `copy`.
pub(crate) const COPY: &str = "\
Examples (the cars are invented):
  rearline copy tarn \"tarn wet\"";

/// Behind the help of `rename`.
pub(crate) const RENAME: &str = "\
Examples (the cars are invented):
  rearline rename tarn \"tarn mk2\"";

/// Behind the help of `put-away`.
pub(crate) const PUT_AWAY: &str = "\
Examples (the cars are invented):
  rearline put-away bin";

/// Behind the help of `check-sheet`.
pub(crate) const CHECK_SHEET: &str = "\
Everything that is wrong is said at once. Each fault comes with its line, what
was meant there and what to write. What is merely unusual is said as well, and
is no error.

Examples (the cars are invented):
  rearline check-sheet tarn
  rearline check-sheet cars/bin/car.toml --json
  rearline check-sheet tarn --upgrade";

/// Behind the help of `schema`.
pub(crate) const SCHEMA: &str = "\
Examples:
  rearline schema pressures > pressures.schema.json
  rearline schema sheet       the sheet itself, for an editor that completes keys
  rearline schema errors      what comes with exit status 2 or 3 and --json";

/// Behind the help of `completions`.
pub(crate) const COMPLETIONS: &str = "\
Examples:
  rearline completions bash > ~/.local/share/bash-completion/completions/rearline
  rearline completions fish > ~/.config/fish/completions/rearline.fish";

/// Behind the help of `manual`.
pub(crate) const MANUAL: &str = "\
Examples:
  rearline manual | man -l -
  rearline manual --verb pressures | man -l -
  rearline manual --folder ~/.local/share/man/man1";
