//! Files as loggers write them: other names, units, delimiters, decimal commas, gaps, spikes, clocks.

use logger::demonstration::Truth;
use logger::{Channel, Fault, Is, Log, named_columns, read};
use sheet::{ColumnMap, column_map};

use crate::truth::{car, log, made};

fn with(map: &str, bytes: &[u8]) -> Result<Log, Fault> {
    read(bytes, &column_map(map).unwrap(), None, &mut |_| ())
}

fn text() -> String {
    String::from_utf8(made(&car("tarn"), Truth::default(), 1)).unwrap()
}

fn same(one: &Log, other: &Log) {
    assert_eq!(one.rows(), other.rows());
    for channel in Channel::ALL {
        let end = one.lasts().s();
        let (one, other) = (
            one.over_time(channel, 0.0, end, usize::MAX),
            other.over_time(channel, 0.0, end, usize::MAX),
        );
        assert_eq!(one.len(), other.len(), "{channel:?}");
        for (one, other) in one.iter().zip(&other) {
            assert!(
                (one.0 - other.0).abs() < 1e-6 && (one.1 - other.1).abs() < 1e-5 * one.1.abs().max(1.0),
                "{channel:?}: {one:?} {other:?}"
            );
        }
    }
}

#[test]
fn delimiter_decimal_comma_byte_order_mark_and_line_ends_change_nothing() {
    let plain = text();
    let read = log(plain.as_bytes());
    let german: String = plain
        .lines()
        .map(|line| line.replace(',', ";").replace('.', ",") + "\r\n")
        .collect();
    same(&read, &log(format!("\u{feff}{german}").as_bytes()));
    same(&read, &log(plain.replace(',', "\t").as_bytes()));
    let quoted: String = plain
        .lines()
        .map(|line| {
            line.split(',')
                .map(|field| format!("\"{}\"", field.replace('.', ",")))
                .collect::<Vec<_>>()
                .join(",")
                + "\n"
        })
        .collect();
    same(
        &read,
        &with("decimal = \",\"\ndelimiter = \",\"\n", quoted.as_bytes()).unwrap(),
    );
    // Latin-1, a line of units, lines of the logger's own above.
    let (heads, rows) = plain.split_once('\n').unwrap();
    let names: Vec<String> = heads
        .split(',')
        .map(|head| head.split(" [").next().unwrap().to_owned())
        .collect();
    let units: Vec<String> = heads
        .split(',')
        .map(|head| {
            head.split('[')
                .nth(1)
                .unwrap()
                .trim_end_matches(']')
                .replace('C', "\u{b0}C")
        })
        .collect();
    let above = format!(
        "Session 4\nDriver: somebody\n\n{}\n{}\n{rows}",
        names.join(","),
        units.join(",")
    );
    let latin: Vec<u8> = above
        .chars()
        .map(|letter| u8::try_from(u32::from(letter)).unwrap())
        .collect();
    same(&read, &log(&latin));
}

#[test]
fn a_map_names_any_column_in_any_unit() {
    let plain = text();
    let read = log(plain.as_bytes());
    let (_, rows) = plain.split_once('\n').unwrap();
    let mut odd = "Zeit ms;P1;P2;v;n1;n2;n3;n4;ax;T1;T2;note\n".to_owned();
    for row in rows.lines() {
        let f: Vec<&str> = row.split(',').collect();
        let number = |field: &str, by: f64| {
            field
                .parse::<f64>()
                .map_or(String::new(), |value| format!("{:.9}", value * by))
        };
        odd += &[
            number(f[0], 1000.0),
            number(f[1], 100.0),
            number(f[2], 14.503_773_773),
            number(f[3], 1.0 / 1.609_344),
            f[4].to_owned(),
            f[5].to_owned(),
            f[6].to_owned(),
            f[7].to_owned(),
            number(f[8], 1.0 / 9.81),
            f[9].to_owned(),
            f[10].to_owned(),
            "gravel".to_owned(),
        ]
        .join(";");
        odd.push('\n');
    }
    let map = "[columns.\"Zeit ms\"]\nis = \"time\"\nunit = \"ms\"\n[columns.P1]\nis = \"front pressure\"\nunit = \"kPa\"\n\
        [columns.P2]\nis = \"rear pressure\"\nunit = \"psi\"\n[columns.v]\nis = \"speed\"\nunit = \"mph\"\n\
        [columns.n1]\nis = \"wheel front left\"\nunit = \"km/h\"\n[columns.n2]\nis = \"wheel front right\"\nunit = \"km/h\"\n\
        [columns.n3]\nis = \"wheel rear left\"\nunit = \"km/h\"\n[columns.n4]\nis = \"wheel rear right\"\nunit = \"km/h\"\n\
        [columns.ax]\nis = \"longitudinal acceleration\"\nunit = \"g\"\n[columns.T1]\nis = \"front disc\"\nunit = \"C\"\n\
        [columns.T2]\nis = \"rear disc\"\nunit = \"C\"\n[columns.note]\nis = \"nothing\"\n";
    same(&read, &with(map, odd.as_bytes()).unwrap());
}

#[test]
fn a_map_scales_and_shifts() {
    let csv = "t [s],P (V),speed [km/h]\n0,0.5,3\n0.1,2.5,3\n0.2,4.5,3\n";
    let map = "[columns.\"P (V)\"]\nis = \"front pressure\"\nunit = \"bar\"\ntimes = 50\nplus = -25\n";
    let read = with(map, csv.as_bytes()).unwrap();
    let bars: Vec<f64> = read
        .over_time(Channel::FrontPressure, 0.0, 1.0, 9)
        .iter()
        .map(|point| point.1 / 1e5)
        .collect();
    assert_eq!(bars, [0.0, 100.0, 200.0]);
}

#[test]
fn clocks_that_stand_go_back_or_begin_again_are_counted_and_passed_over() {
    let csv = "time [s],front pressure [bar]\n0,1\n0.1,2\n0.1,99\n0.05,98\n0.2,3\nx,97\n,96\n0.3,4\n5.3,5\n0,6\n0.1,7\n";
    let read = log(csv.as_bytes());
    let mended = read.mended;
    assert_eq!(
        (
            mended.times_twice,
            mended.times_backward,
            mended.rows_without_time,
            mended.clock_set_anew
        ),
        (1, 1, 2, 1)
    );
    assert_eq!(mended.gaps, 2);
    let bars: Vec<f64> = read
        .over_time(Channel::FrontPressure, 0.0, 99.0, 99)
        .iter()
        .map(|point| point.1 / 1e5)
        .collect();
    assert_eq!(bars, [1.0, 2.0, 3.0, 4.0, 5.0, 6.0, 7.0]);
    // A clock of the day, past midnight.
    let clock = "time,front pressure [bar]\n2026-05-02 23:59:59.9,1\n2026-05-03 00:00:00.0,2\n2026-05-03 00:00:00.1,3\n";
    let read = log(clock.as_bytes());
    assert_eq!((read.rows(), read.mended.clock_set_anew), (3, 1));
}

#[test]
fn spikes_and_figures_out_of_reach_are_left_out() {
    let mut csv = "time [s],front pressure [bar],speed [km/h]\n".to_owned();
    for row in 0..200 {
        let bar = match row {
            50 => 80.0,
            100 => -900.0,
            150 => 1e30,
            _ => 10.0,
        };
        csv += &format!(
            "{:.2},{bar},{}\n",
            f64::from(row) * 0.01,
            if row == 70 { 299 } else { 60 }
        );
    }
    let read = log(csv.as_bytes());
    assert_eq!(
        (read.mended.spikes, read.mended.out_of_reach, read.mended.missing),
        (2, 2, 4)
    );
    let points = read.over_time(Channel::FrontPressure, 0.0, 9.0, 999);
    assert!(points.iter().all(|point| (point.1 - 10e5).abs() < 1.0) && points.len() == 197);
}

#[test]
fn faults_say_what_to_do() {
    let said = |bytes: &[u8]| {
        read(bytes, &ColumnMap::default(), None, &mut |_| ())
            .unwrap_err()
            .to_string()
    };
    assert_eq!(said(b""), "the file is empty");
    assert_eq!(said(b"\xef\xbb\xbf \n"), "the file is empty");
    assert!(said(b"\xff\xfet\0i\0").contains("UTF-16"));
    assert!(
        said(b"a,b\n1,2\n").contains("no line names a column of time; the first with columns says: a, b")
    );
    assert!(said(b"time,b\n1,2\n").contains("no column is of pressure"));
    assert!(said(b"time [s],front pressure [km/h]\n1,2\n").contains("`km/h` is no unit of front pressure"));
    assert!(said(b"time [kg],front pressure [bar]\n1,2\n").contains("`kg` is no unit of a unit of time"));
    assert!(said(b"time [s],front pressure [bar]\n").contains("no figures"));
    assert!(said(b"time [s],front pressure [bar]\n0,1\0\n").contains("byte 0"));
    let long = format!("time [s],front pressure [bar]\n0,{}\n", "9".repeat(70_000));
    assert!(said(long.as_bytes()).contains("longer than"));
    // Without its unit a column is passed over, and said.
    let read = log(b"time [s],front pressure [bar],rear pressure\n0,1,2\n1,2,3\n");
    assert_eq!(
        read.passed_over,
        [("rear pressure".to_owned(), "its unit is not said")]
    );
}

#[test]
fn progress_is_told_to_the_end() {
    let text = text();
    let mut told = Vec::new();
    let read = read(text.as_bytes(), &ColumnMap::default(), None, &mut |progress| {
        told.push(progress)
    })
    .unwrap();
    assert_eq!(told.last().map(|last| last.rows), Some(read.rows()));
    assert!(usize::try_from(told.last().unwrap().bytes).unwrap() >= text.len() - 2);
}

/// What a person is asked about: each head, what it is taken for, and its unit.
#[test]
fn columns_are_told_with_what_they_are_taken_for() {
    let told = |text: &str, map: &str| -> Vec<String> {
        let columns = named_columns(text.as_bytes(), &column_map(map).unwrap());
        let is = |is: Option<Is>| is.map_or("?", Is::name);
        columns
            .iter()
            .map(|column| {
                format!(
                    "{}: {} in {}",
                    column.head,
                    is(column.is),
                    column.unit.as_deref().unwrap_or("?")
                )
            })
            .collect()
    };
    let odd = "made by,a logger\ndate,2 May\nt1,A1,V [km/h]\n0.0,1,2\n0.1,1,2\n0.2,1,3\n";
    assert_eq!(
        told(odd, ""),
        ["t1: ? in ?", "A1: ? in ?", "V: ? in km/h"].map(|told| told.replace("V:", "V [km/h]:"))
    );
    let map = "[columns.t1]\nis = \"time\"\n[columns.A1]\nis = \"rear pressure\"\nunit = \"psi\"\n";
    assert_eq!(
        told(odd, map),
        ["t1: time in ?", "A1: rear pressure in psi", "V [km/h]: ? in km/h"]
    );
    let below = "\u{feff}time;front pressure;x\ns;bar;\n0;1;2\n";
    assert_eq!(
        told(below, ""),
        [
            "time: time in s",
            "front pressure: front pressure in bar",
            "x: ? in ?"
        ]
    );
    for text in ["", "\0\0", "one word", "\n\n"] {
        assert_eq!(told(text, ""), [""; 0], "{text:?}");
    }
    // A message names the same heads.
    let fault = with("", odd.as_bytes()).unwrap_err().to_string();
    assert!(fault.ends_with("says: t1, A1, V [km/h]"), "{fault}");
    let known = |is: Is, unit: &str| is.takes(unit);
    assert!(known(Is::Of(Channel::RearPressure), "psi") && !known(Is::Of(Channel::RearPressure), "kN"));
    assert!(known(Is::Time, "ms") && !known(Is::Time, "bar") && known(Is::Of(Channel::WheelRearLeft), "rpm"));
    for is in [Is::Time, Is::Nothing]
        .into_iter()
        .chain(Channel::ALL.map(Is::Of))
    {
        assert_eq!(Is::named(is.name()), Some(is));
    }
}
