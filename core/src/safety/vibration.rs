//! Exposure of the hands to vibration: points, A(8), and the times to the action and limit values.

use crate::units::{Acceleration, Duration};
use crate::words::Phrase;

/// Points of the action value, 2.5 m/s2 A(8) (Control of Vibration at Work Regulations 2005; HSE,
/// seen).
pub const ACTION_POINTS: f64 = 100.0;
/// Points of the limit value, 5 m/s2 A(8) (same).
pub const LIMIT_POINTS: f64 = 400.0;

/// Work with one tool.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Work {
    /// How hard the tool shakes, taken as given.
    pub magnitude: Acceleration,
    /// For how long.
    pub time: Duration,
}

/// A day's exposure.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Exposure {
    /// Points: 2 a² T over all tools, a in m/s² and T in hours (HSE exposure points, seen).
    pub points: f64,
    /// The same as a daily exposure over eight hours.
    pub a8: Acceleration,
    /// Hours of this same mix of work that reach the action value; none where nothing shakes.
    pub to_action: Option<Duration>,
    /// Hours of this same mix of work that reach the limit value; none where nothing shakes.
    pub to_limit: Option<Duration>,
}

/// The exposure of some work.
pub fn exposure(work: &[Work]) -> Exposure {
    let points: f64 = work.iter().copied().map(Work::points).sum();
    let total: Duration = work.iter().map(|work| work.time).sum();
    let reaches = |limit: f64| (points > 0.0).then(|| total * (limit / points));
    Exposure {
        points,
        a8: Acceleration::from_m_per_s2((points / (2.0 * 8.0)).sqrt()),
        to_action: reaches(ACTION_POINTS),
        to_limit: reaches(LIMIT_POINTS),
    }
}

impl Exposure {
    /// Where it stands against the two values, in words.
    pub fn says(&self) -> Phrase {
        let code = if self.points >= LIMIT_POINTS - 1e-9 {
            "vibration.limit"
        } else if self.points >= ACTION_POINTS - 1e-9 {
            "vibration.action"
        } else {
            "vibration.under"
        };
        Phrase::new(code, [("points", self.points.round().into())])
    }
}

impl Work {
    fn points(self) -> f64 {
        2.0 * self.magnitude.to_m_per_s2().powi(2) * self.time.to_h()
    }

    /// How long this tool alone may run before the points reach a value; none where it is still.
    pub fn time_to(magnitude: Acceleration, points: f64) -> Option<Duration> {
        let an_hour = 2.0 * magnitude.to_m_per_s2().powi(2);
        (an_hour > 0.0).then(|| Duration::from_h(points / an_hour))
    }
}

/// A time towards a limit in whole minutes: rounded down, so that it never promises too much.
pub fn whole_minutes(time: Duration) -> u32 {
    (time.to_min() + 1e-9).floor().max(0.0) as u32
}

/// Why a text is no work with a tool.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum WorkError {
    /// It is not a magnitude at a time.
    #[error("\"{0}\" is no magnitude at a time")]
    NotWork(String),
    /// The magnitude is not one of a tool.
    #[error("\"{0}\" has no magnitude from 0 to 100 m/s²")]
    Magnitude(String),
    /// The time is not one of a day.
    #[error("\"{0}\" has no time above 0 and up to 24 h")]
    Time(String),
}

/// Reads work with a tool: `4.0@3h`, `2.5@45min`, `4,5@1h30min`; the magnitude in m/s².
///
/// # Errors
/// [`WorkError`] says what was not understood.
pub fn parse_work(text: &str) -> Result<Work, WorkError> {
    let shown = || text.trim().to_owned();
    let (magnitude, time) = text.split_once('@').ok_or_else(|| WorkError::NotWork(shown()))?;
    let magnitude = number(magnitude).ok_or_else(|| WorkError::NotWork(shown()))?;
    if !(0.0..=100.0).contains(&magnitude) {
        return Err(WorkError::Magnitude(shown()));
    }
    let time = time_of(time).ok_or_else(|| WorkError::NotWork(shown()))?;
    if !(time > Duration::ZERO && time <= Duration::from_h(24.0)) {
        return Err(WorkError::Time(shown()));
    }
    Ok(Work { magnitude: Acceleration::from_m_per_s2(magnitude), time })
}

fn number(text: &str) -> Option<f64> {
    let text = text.trim().replacen(',', ".", 1);
    let digits = text.bytes().all(|b| b.is_ascii_digit() || b"+-.".contains(&b));
    text.parse().ok().filter(|n: &f64| digits && n.is_finite())
}

/// A time in hours, minutes, or both, the hours first.
fn time_of(text: &str) -> Option<Duration> {
    let text = text.trim();
    if let Some((hours, rest)) = text.split_once('h') {
        let minutes = match rest.trim() {
            "" => 0.0,
            rest => number(rest.strip_suffix("min")?).filter(|minutes| *minutes >= 0.0)?,
        };
        return Some(Duration::from_h(number(hours)?) + Duration::from_min(minutes));
    }
    Some(Duration::from_min(number(text.strip_suffix("min")?)?))
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn work(text: &str) -> Work {
        parse_work(text).unwrap()
    }

    #[test]
    fn the_ready_reckoners_example() {
        // HSE ready reckoner (seen): 5 m/s2 for 3 h is 150 points, A(8) 3.06.
        let day = exposure(&[work("5@3h")]);
        assert!((day.points - 150.0).abs() < 1e-9);
        assert!((day.a8.to_m_per_s2() - 3.06).abs() < 0.005);
    }

    #[test]
    fn points_an_hour_as_printed() {
        // HSE ready reckoner (seen): points an hour by magnitude.
        for (magnitude, points) in [(3, 18), (4, 32), (5, 50), (6, 72), (7, 98), (10, 200)] {
            let day = exposure(&[work(&format!("{magnitude}@1h"))]);
            assert!((day.points - f64::from(points)).abs() < 1e-9, "{magnitude}");
        }
    }

    #[test]
    fn the_action_and_limit_values_are_their_points() {
        // Control of Vibration at Work Regulations 2005 (seen): 2.5 and 5 m/s2 A(8).
        assert!((exposure(&[work("2.5@8h")]).points - ACTION_POINTS).abs() < 1e-9);
        assert!((exposure(&[work("5@8h")]).points - LIMIT_POINTS).abs() < 1e-9);
    }

    #[test]
    fn times_to_a_limit_are_rounded_down() {
        // Hand arithmetic: 100 / (2 x 64) h is 46.875 min, 400 is 187.5 min. The action value is
        // passed before the 47th minute ends, so 46 are promised; the limit at 187, not 188.
        let magnitude = Acceleration::from_m_per_s2(8.0);
        let minutes = |points| whole_minutes(Work::time_to(magnitude, points).unwrap());
        assert_eq!((minutes(ACTION_POINTS), minutes(LIMIT_POINTS)), (46, 187));
        // 5 m/s2 for 55 min is 46 points.
        assert_eq!(exposure(&[work("5@55min")]).points.round(), 46.0);
        assert_eq!(Work::time_to(Acceleration::ZERO, 100.0), None);
    }

    #[test]
    fn tools_add_up_and_scale_as_a_mix() {
        // Hand arithmetic: 2 x 16 x 3 + 2 x 6.25 x 0.75 = 105.375 over 3.75 h.
        let day = exposure(&[work("4.0@3h"), work("2.5@45min")]);
        assert!((day.points - 105.375).abs() < 1e-9);
        assert!((day.to_action.unwrap().to_h() - 3.75 * 100.0 / 105.375).abs() < 1e-9);
        assert!((day.to_limit.unwrap().to_h() - 3.75 * 400.0 / 105.375).abs() < 1e-9);
        assert_eq!(exposure(&[]).to_action, None);
    }

    #[test]
    fn times_are_read_as_people_write_them() {
        assert!((work("4,5 @ 1h30min").time.to_min() - 90.0).abs() < 1e-9);
        assert!((work("4@1.5h").time.to_min() - 90.0).abs() < 1e-9);
        for text in [
            "",
            "4",
            "4@",
            "@3h",
            "4@3",
            "4@h",
            "x@3h",
            "4@3h3h",
            "4@3h-5min",
            "nan@1h",
            "4@infh",
            "1e1@1h",
        ] {
            assert!(matches!(parse_work(text), Err(WorkError::NotWork(_))), "{text}");
        }
        assert!(matches!(parse_work("-4@3h"), Err(WorkError::Magnitude(_))));
        assert!(matches!(parse_work("400@3h"), Err(WorkError::Magnitude(_))));
        for text in ["4@0h", "4@-1h", "4@25h"] {
            assert!(matches!(parse_work(text), Err(WorkError::Time(_))), "{text}");
        }
    }

    proptest! {
        #[test]
        fn the_mix_held_for_its_time_reaches_just_its_value(
            tools in prop::collection::vec((0.5_f64..20.0, 1.0_f64..300.0), 1..6),
        ) {
            let work: Vec<Work> = tools
                .iter()
                .map(|(a, min)| Work {
                    magnitude: Acceleration::from_m_per_s2(*a),
                    time: Duration::from_min(*min),
                })
                .collect();
            let day = exposure(&work);
            let total: Duration = work.iter().map(|w| w.time).sum();
            let scale = day.to_action.unwrap() / total;
            let longer: Vec<Work> =
                work.iter().map(|w| Work { time: w.time * scale, ..*w }).collect();
            prop_assert!((exposure(&longer).points - ACTION_POINTS).abs() < 1e-6);
            prop_assert!((exposure(&longer).a8.to_m_per_s2() - 2.5).abs() < 1e-6);
        }

        #[test]
        fn no_text_makes_it_panic(text in "\\PC{0,12}") {
            let _ = parse_work(&text);
        }
    }
}
