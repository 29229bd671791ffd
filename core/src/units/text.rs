//! Lengths as people write them: metric, and feet and inches.

use super::Length;

/// Why a text is not a length.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum LengthParseError {
    /// Nothing was written.
    #[error("nothing is written; write a length such as 2.4 m, 2400 mm or 7 ft 10 1/2 in")]
    Empty,
    /// A part is neither a number nor a unit.
    #[error("\"{0}\" is not understood; write a length such as 2.4 m, 2400 mm or 7 ft 10 1/2 in")]
    NotALength(String),
    /// The same unit twice, or a smaller unit before a larger one.
    #[error("units are out of order; write feet before inches, and each once")]
    OutOfOrder,
}

#[derive(Debug, Clone, Copy, PartialEq)]
enum Token {
    Number(f64),
    Fraction(f64),
    Unit(Unit),
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
enum Unit {
    Inch,
    Foot,
    Millimetre,
    Metre,
}

impl Unit {
    const fn length(self) -> Length {
        match self {
            Unit::Inch => Length::from_inches(1.0),
            Unit::Foot => Length::from_inches(12.0),
            Unit::Millimetre => Length::from_mm(1.0),
            Unit::Metre => Length::from_m(1.0),
        }
    }
}

/// Reads a length: `2.4 m`, `2400 mm`, `2,4 m`, `7 ft 10 1/2 in`, `7' 10½"`, `10 5/8"`.
/// A bare number is metres.
///
/// # Errors
/// [`LengthParseError`] says what was not understood.
///
/// ```
/// use fairfall_core::units::parse_length;
/// let length = parse_length("7 ft 10 1/2 in")?;
/// assert!((length.to_mm() - 2400.3).abs() < 1e-6);
/// # Ok::<(), fairfall_core::units::LengthParseError>(())
/// ```
pub fn parse_length(text: &str) -> Result<Length, LengthParseError> {
    let tokens = tokens(text)?;
    let mut total = Length::ZERO;
    let mut pending: Option<f64> = None;
    let mut smallest: Option<Unit> = None;
    let mut negative = false;
    for token in &tokens {
        match *token {
            Token::Number(number) => {
                if pending.is_some() {
                    return Err(LengthParseError::NotALength(text.trim().to_owned()));
                }
                negative |= number.is_sign_negative();
                pending = Some(number.abs());
            }
            Token::Fraction(fraction) => {
                if pending.is_some() && fraction.is_sign_negative() {
                    return Err(LengthParseError::NotALength(text.trim().to_owned()));
                }
                negative |= fraction.is_sign_negative();
                pending = Some(pending.unwrap_or(0.0) + fraction.abs());
            }
            Token::Unit(unit) => {
                let Some(number) = pending.take() else {
                    return Err(LengthParseError::NotALength(text.trim().to_owned()));
                };
                if smallest.is_some_and(|last| unit >= last) {
                    return Err(LengthParseError::OutOfOrder);
                }
                smallest = Some(unit);
                total += unit.length() * number;
            }
        }
    }
    match (pending, smallest) {
        (Some(number), None) => total += Length::from_m(number),
        (Some(number), Some(Unit::Foot)) => total += Length::from_inches(number),
        (None, Some(_)) => {}
        (Some(_), Some(_)) => return Err(LengthParseError::NotALength(text.trim().to_owned())),
        (None, None) => return Err(LengthParseError::Empty),
    }
    Ok(if negative { -total } else { total })
}

fn tokens(text: &str) -> Result<Vec<Token>, LengthParseError> {
    let refuse = |part: &str| LengthParseError::NotALength(part.to_owned());
    let mut tokens = Vec::new();
    let mut chars = text.trim().chars().peekable();
    while let Some(&first) = chars.peek() {
        let mut part = String::new();
        if first.is_whitespace() {
            chars.next();
        } else if first.is_ascii_digit() || matches!(first, '-' | '.' | ',') {
            while let Some(c) =
                chars.next_if(|c| c.is_ascii_digit() || matches!(c, '-' | '.' | ',' | '/'))
            {
                part.push(if c == ',' { '.' } else { c });
            }
            tokens.push(number(&part).ok_or_else(|| refuse(&part))?);
        } else if let Some(fraction) = vulgar(first) {
            chars.next();
            tokens.push(Token::Fraction(fraction));
        } else if first.is_alphabetic() {
            while let Some(c) = chars.next_if(|c| c.is_alphabetic() && vulgar(*c).is_none()) {
                part.push(c);
            }
            tokens.push(Token::Unit(unit(&part).ok_or_else(|| refuse(&part))?));
        } else {
            chars.next();
            let mark = if first == '\'' && chars.next_if_eq(&'\'').is_some() { '"' } else { first };
            let unit = unit(mark.encode_utf8(&mut [0; 4])).ok_or_else(|| refuse(text.trim()))?;
            tokens.push(Token::Unit(unit));
        }
    }
    Ok(tokens)
}

fn number(part: &str) -> Option<Token> {
    if let Some((over, under)) = part.split_once('/') {
        let (sign, over) = over.strip_prefix('-').map_or((1.0, over), |over| (-1.0, over));
        let over: u32 = over.parse().ok()?;
        let under: u32 = under.parse().ok()?;
        return (under > 0).then(|| Token::Fraction(sign * f64::from(over) / f64::from(under)));
    }
    part.parse().ok().filter(|n: &f64| n.is_finite()).map(Token::Number)
}

fn vulgar(c: char) -> Option<f64> {
    Some(match c {
        '½' => 0.5,
        '¼' => 0.25,
        '¾' => 0.75,
        '⅛' => 0.125,
        '⅜' => 0.375,
        '⅝' => 0.625,
        '⅞' => 0.875,
        _ => return None,
    })
}

fn unit(text: &str) -> Option<Unit> {
    Some(match text.to_lowercase().as_str() {
        "m" | "metre" | "metres" | "meter" | "meters" => Unit::Metre,
        "mm" => Unit::Millimetre,
        "'" | "′" | "’" | "ft" | "foot" | "feet" => Unit::Foot,
        "\"" | "″" | "”" | "in" | "inch" | "inches" => Unit::Inch,
        _ => return None,
    })
}

/// Metres with two decimals: `2.40 m`.
pub fn format_m(length: Length) -> String {
    format!("{:.2} m", length.to_m())
}

/// Whole millimetres: `75 mm`.
pub fn format_mm(length: Length) -> String {
    let mm = length.to_mm().round();
    format!("{:.0} mm", if mm == 0.0 { 0.0 } else { mm })
}

/// Feet, inches and eighths: `7 ft 10 1/2 in`; only inches under a foot.
pub fn format_feet_inches(length: Length) -> String {
    let sign = if length < Length::ZERO { "-" } else { "" };
    let eighths = (length.abs().to_inches() * 8.0).round();
    let feet = (eighths / 96.0).floor();
    let rest = eighths - feet * 96.0;
    let inches = (rest / 8.0).floor();
    let fraction = match (rest - inches * 8.0).round() as u8 {
        0 => "",
        1 => " 1/8",
        2 => " 1/4",
        3 => " 3/8",
        4 => " 1/2",
        5 => " 5/8",
        6 => " 3/4",
        _ => " 7/8",
    };
    let inches = if inches == 0.0 && !fraction.is_empty() {
        format!("{} in", fraction.trim_start())
    } else {
        format!("{inches:.0}{fraction} in")
    };
    if feet == 0.0 { format!("{sign}{inches}") } else { format!("{sign}{feet:.0} ft {inches}") }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn reads_what_people_write() {
        let cases = [
            ("2.4", 2400.0),
            ("2,4 m", 2400.0),
            ("2400mm", 2400.0),
            ("2 m 400 mm", 2400.0),
            ("7 ft 10 1/2 in", 2400.3),
            ("7' 10½\"", 2400.3),
            ("7'10''", 2387.6),
            ("10 5/8\"", 269.875),
            ("7 ft 10", 2387.6),
            ("-30 mm", -30.0),
            ("-1/8 in", -3.175),
        ];
        for (text, mm) in cases {
            let read = parse_length(text).map(Length::to_mm);
            assert!(read.as_ref().is_ok_and(|l| (l - mm).abs() < 1e-6), "{text}: {read:?}");
        }
    }

    #[test]
    fn refuses_what_is_no_length() {
        for text in [
            "",
            "  ",
            "m",
            "2.4.1",
            "2 3",
            "1/0 in",
            "10 in 2 ft",
            "2 m 3 m",
            "abc",
            "1-2",
            "2 -1/8 in",
        ] {
            assert!(parse_length(text).is_err(), "{text} was read");
        }
    }

    #[test]
    fn writes_feet_and_inches_in_eighths() {
        assert_eq!(format_feet_inches(Length::from_mm(2400.3)), "7 ft 10 1/2 in");
        assert_eq!(format_feet_inches(Length::from_mm(3.2)), "1/8 in");
        assert_eq!(format_feet_inches(Length::from_mm(-304.8)), "-1 ft 0 in");
        assert_eq!(format_feet_inches(Length::ZERO), "0 in");
    }

    proptest! {
        #[test]
        fn any_text_is_read_or_refused(text in "\\PC*") {
            let _answer = parse_length(&text);
        }

        #[test]
        fn feet_and_inches_there_and_back(eighths in -80_000_i32..80_000) {
            let length = Length::from_inches(f64::from(eighths) / 8.0);
            let back = parse_length(&format_feet_inches(length));
            prop_assert!(back.is_ok_and(|l| (l - length).abs().to_mm() < 1e-6));
        }
    }
}
