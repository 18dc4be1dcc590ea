//! How tables write numbers: decimal comma and separators of thousands are taken only when the table is unanimous.

use springwright_chem::fault::Fault;
use springwright_chem::quantity::number::{Cell, Convention, read_numbers};

/// A cell that should be refused, by its code; or what it means.
enum Meant {
    Is(f64),
    Below(f64),
    Word(Cell),
    Refused(&'static str),
}
use Meant::{Below, Is, Refused, Word};

fn check(cells: &[(&str, Meant)]) {
    let texts: Vec<&str> = cells.iter().map(|(text, _)| *text).collect();
    let read = read_numbers(&texts);
    for ((text, meant), got) in cells.iter().zip(&read.cells) {
        let right = match (meant, got) {
            (Is(value), Ok(Cell::Value(got))) => value == got,
            (Below(value), Ok(Cell::Below(got))) => value == got,
            (Word(cell), Ok(got)) => cell == got,
            (Refused(code), Err(error)) => error.code() == *code,
            _ => false,
        };
        assert!(right, "{text} in {texts:?} was read as {got:?}");
    }
}

#[test]
fn a_comma_alone_before_three_digits_is_ambiguous() {
    check(&[("1,234", Refused("number_ambiguous")), ("12", Is(12.0))]);
    check(&[("1,234", Refused("number_ambiguous")), ("5,678", Refused("number_ambiguous"))]);
    assert_eq!(read_numbers(&["1,234"]).cells[0].as_ref().unwrap_err().accepted(), ["1234", "1.234"]);
}

#[test]
fn a_certain_decimal_comma_decides_the_table() {
    check(&[
        ("12,5", Is(12.5)),
        ("1,234", Is(1.234)),
        ("1.234", Is(1234.0)),
        ("<0,1", Below(0.1)),
        ("7", Is(7.0)),
    ]);
    check(&[("0,234", Is(0.234)), ("1,234", Is(1.234))]);
    check(&[("1.234,5", Is(1234.5)), ("1.234", Is(1234.0))]);
    check(&[("1 234,5", Is(1234.5)), ("2 345", Is(2345.0)), ("3,456", Is(3.456))]);
    check(&[("1.234.567", Is(1234567.0)), ("2,345", Is(2.345))]);
    assert_eq!(read_numbers(&["12,5", "1"]).convention, Convention::Comma);
}

#[test]
fn a_certain_decimal_point_decides_the_table() {
    check(&[("12.5", Is(12.5)), ("1,234", Is(1234.0)), ("1.234", Is(1.234)), ("<0.1", Below(0.1))]);
    check(&[("1,234,567", Is(1234567.0)), ("1,234", Is(1234.0))]);
    check(&[("1,234.5", Is(1234.5)), ("2,345", Is(2345.0))]);
    assert_eq!(read_numbers(&["12.5", "1"]).convention, Convention::Point);
}

#[test]
fn a_lone_point_is_a_decimal_point() {
    check(&[("1.234", Is(1.234)), ("5.678", Is(5.678)), ("3", Is(3.0))]);
}

#[test]
fn points_and_commas_of_the_same_shape_leave_doubt() {
    check(&[("1,234", Refused("number_ambiguous")), ("1.234", Refused("number_ambiguous")), ("5", Is(5.0))]);
}

#[test]
fn a_table_of_two_minds_is_refused_where_it_matters() {
    check(&[
        ("12,5", Refused("numbers_mixed")),
        ("3.7", Refused("numbers_mixed")),
        ("1,234", Refused("numbers_mixed")),
        ("40", Is(40.0)),
        ("n.d.", Word(Cell::NotDetected)),
    ]);
}

#[test]
fn words_and_blanks_are_told_apart_from_zero() {
    check(&[
        ("ND", Word(Cell::NotDetected)),
        ("n.d.", Word(Cell::NotDetected)),
        ("<LOD", Word(Cell::NotDetected)),
        ("tr.", Word(Cell::Trace)),
        ("Trace", Word(Cell::Trace)),
        ("", Word(Cell::Empty)),
        (" - ", Word(Cell::Empty)),
        ("–", Word(Cell::Empty)),
        ("0", Is(0.0)),
        ("0.0", Is(0.0)),
    ]);
}

#[test]
fn one_bad_cell_does_not_spoil_the_others() {
    check(&[
        ("12.5", Is(12.5)),
        ("twelve", Refused("number_malformed")),
        ("-3.5", Refused("negative")),
        ("NaN", Refused("not_finite")),
        ("inf", Refused("not_finite")),
        ("12.5*", Refused("number_malformed")),
        ("12²", Refused("number_malformed")),
        ("1.2.3", Refused("number_malformed")),
        ("12,34,567", Refused("number_malformed")),
        ("0x10", Refused("number_malformed")),
        ("1e5", Is(1e5)),
        ("1.5E-3", Is(0.0015)),
        ("2×10³", Is(2000.0)),
        ("1\u{a0}234.5", Is(1234.5)),
        ("+7.5", Is(7.5)),
        ("1 23", Refused("number_malformed")),
        ("1_000", Refused("number_malformed")),
        ("7,", Refused("number_malformed")),
        ("7.", Refused("number_malformed")),
        (".", Refused("number_malformed")),
    ]);
}
