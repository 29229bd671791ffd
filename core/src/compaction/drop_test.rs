//! The drop test: the same places dipped before and after each extra pass show whether this plate
//! still moves the layer. It is no test of density.

use serde::{Deserialize, Serialize};
use ts_rs::TS;

use crate::units::Length;
use crate::words::Phrase;

/// Tape readings of one layer at the same places: the first round before any extra pass, then one
/// round after each. A tape reads more where the layer has dropped.
#[derive(Debug, Clone, PartialEq)]
pub struct DropTest {
    rounds: Vec<Vec<Length>>,
}

/// Why readings make no drop test.
#[derive(Debug, Clone, Copy, PartialEq, Eq, thiserror::Error)]
pub enum DropTestError {
    /// There is nothing to compare.
    #[error("a drop test needs a round before and a round after a pass")]
    OneRound,
    /// Too few places.
    #[error("a drop test needs at least three places; six or more are better")]
    FewPlaces,
    /// A round has more places than another.
    #[error("every round is dipped at the same places")]
    OtherPlaces,
}

/// What a pass did.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Settled {
    /// Mean drop of the places.
    pub mean: Length,
    /// The place that moved most, down or up.
    pub most: Length,
    /// How far single drops stray from the mean: their standard deviation.
    pub spread: Length,
}

/// What a drop test shows.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, TS)]
#[serde(rename_all = "snake_case")]
pub enum DropVerdict {
    /// The layer has taken its limit: this plate does no more.
    Done,
    /// It still drops; go on.
    Settling,
    /// It drops and does not slacken: the lift is too thick or too dry for this plate.
    TooThickOrDry,
}

/// The answer of a drop test.
#[derive(Debug, Clone, PartialEq)]
pub struct DropAnswer {
    /// Pass by pass.
    pub passes: Vec<Settled>,
    /// In a word.
    pub verdict: DropVerdict,
    /// About how many passes are left by the fitted decay; none before there are two passes to fit,
    /// or where none can be told.
    pub passes_left: Option<u32>,
    /// In words.
    pub says: Phrase,
    /// What to mind besides.
    pub cautions: Vec<Phrase>,
}

/// The layer has taken its limit when the mean drop of a pass is under this and no place moves more
/// than twice as much (our defaults).
const MEAN_LIMIT: Length = Length::from_mm(1.0);
const PLACE_LIMIT: Length = Length::from_mm(2.0);
/// Readings that differ by less are the same.
const SAME: Length = Length::from_mm(1e-6);
/// Fewer places than this are said to be few.
const GOOD_PLACES: usize = 6;
/// A layer that wants more passes than this is too thick or too dry for the plate (our default).
const MOST_PASSES_LEFT: u32 = 8;

impl DropTest {
    /// A test from its rounds.
    ///
    /// # Errors
    /// [`DropTestError`] for fewer than two rounds, fewer than three places, or rounds of different
    /// places.
    pub fn new(rounds: Vec<Vec<Length>>) -> Result<DropTest, DropTestError> {
        let places = rounds.first().map_or(0, Vec::len);
        if rounds.len() < 2 {
            return Err(DropTestError::OneRound);
        }
        if rounds.iter().any(|round| round.len() != places) {
            return Err(DropTestError::OtherPlaces);
        }
        if places < 3 { Err(DropTestError::FewPlaces) } else { Ok(DropTest { rounds }) }
    }

    /// What it shows.
    pub fn answer(&self) -> DropAnswer {
        let passes: Vec<Settled> = self
            .rounds
            .windows(2)
            .filter_map(|pair| match pair {
                [before, after] => settled(before, after),
                _ => None,
            })
            .collect();
        let means: Vec<f64> = passes.iter().map(|pass| pass.mean.to_mm()).collect();
        let last = passes.last().copied();
        let done =
            last.is_some_and(|p| p.mean < MEAN_LIMIT - SAME && p.most.abs() <= PLACE_LIMIT + SAME);
        let fitted = if done { None } else { decay(&means) };
        let left = fitted.and_then(|decay| last.and_then(|last| decay.passes_left(&means, last)));
        let verdict = match (done, fitted, left) {
            (true, _, _) => DropVerdict::Done,
            (false, Some(_), None) => DropVerdict::TooThickOrDry,
            (false, _, _) => DropVerdict::Settling,
        };
        DropAnswer {
            says: says(verdict, left, last),
            cautions: self.cautions(last),
            passes,
            verdict,
            passes_left: if done { Some(0) } else { left },
        }
    }

    fn cautions(&self, last: Option<Settled>) -> Vec<Phrase> {
        let mut list = Vec::new();
        let places = self.rounds.first().map_or(0, Vec::len);
        if places < GOOD_PLACES {
            list.push(Phrase::new("drop.few_places", [("places", (places as f64).into())]));
        }
        if last.is_some_and(|last| last.most < -PLACE_LIMIT) {
            list.push(Phrase::new("drop.rose", []));
        }
        list
    }
}

fn settled(before: &[Length], after: &[Length]) -> Option<Settled> {
    let drops: Vec<Length> = before.iter().zip(after).map(|(b, a)| *a - *b).collect();
    let count = drops.len() as f64;
    let mean = drops.iter().copied().sum::<Length>() / count;
    let most = drops.iter().copied().max_by(|a, b| a.abs().to_mm().total_cmp(&b.abs().to_mm()))?;
    let squares: f64 = drops.iter().map(|drop| (*drop - mean).to_mm().powi(2)).sum();
    let spread = Length::from_mm((squares / (count - 1.0)).sqrt());
    Some(Settled { mean, most, spread })
}

/// Mean drops that shrink by the same ratio each pass: `first` times `ratio` to the power of the
/// pass, counted from 0.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Decay {
    first: f64,
    ratio: f64,
}

/// The decay nearest to the mean drops by least squares, its ratio between 0 and 1; none before
/// there are two passes, or where the layer does not drop at all.
fn decay(means: &[f64]) -> Option<Decay> {
    if means.len() < 2 {
        return None;
    }
    let fit = |ratio: f64| {
        let powers = || std::iter::successors(Some(1.0), move |p| Some(p * ratio));
        let against: f64 = means.iter().zip(powers()).map(|(drop, p)| drop * p).sum();
        let squares: f64 = means.iter().zip(powers()).map(|(_, p): (_, f64)| p * p).sum();
        let first = against / squares;
        let off: f64 = means.iter().zip(powers()).map(|(drop, p)| (drop - first * p).powi(2)).sum();
        (Decay { first, ratio }, off)
    };
    let best = |ratios: &mut dyn Iterator<Item = f64>| {
        ratios.map(fit).min_by(|a, b| a.1.total_cmp(&b.1)).map(|(decay, _)| decay)
    };
    // A coarse search over the whole, then a fine one about its best, which has one valley.
    let coarse = best(&mut (0..=100).map(|step| f64::from(step) / 100.0))?;
    let (mut low, mut high) = ((coarse.ratio - 0.01).max(0.0), (coarse.ratio + 0.01).min(1.0));
    for _ in 0..40 {
        let (a, b) = (low + (high - low) / 3.0, high - (high - low) / 3.0);
        if fit(a).1 <= fit(b).1 { high = b } else { low = a }
    }
    let (fine, _) = fit((low + high) / 2.0);
    (fine.first > 0.0).then_some(fine)
}

impl Decay {
    /// How many passes until both limits are met, places straying from the mean as in the last;
    /// none where that is more than a lift ever needs.
    fn passes_left(self, means: &[f64], last: Settled) -> Option<u32> {
        let done = means.len() as i32;
        let stray = (last.most.abs() - last.mean).to_mm() / last.mean.to_mm().max(0.1);
        (1..=MOST_PASSES_LEFT).find(|more| {
            let mean = self.first * self.ratio.powi(done + *more as i32 - 1);
            mean < MEAN_LIMIT.to_mm() && mean * (1.0 + stray.max(0.0)) <= PLACE_LIMIT.to_mm()
        })
    }
}

fn says(verdict: DropVerdict, left: Option<u32>, last: Option<Settled>) -> Phrase {
    let tenths = |length: Length| (length.to_mm() * 10.0).round() / 10.0;
    let mean = last.map_or(0.0, |last| tenths(last.mean));
    let most = last.map_or(0.0, |last| tenths(last.most));
    let spread = last.map_or(0.0, |last| tenths(last.spread));
    let values = [
        ("mean", mean.into()),
        ("most", most.into()),
        ("spread", spread.into()),
        ("count", 0_u32.into()),
    ];
    match (verdict, left) {
        (DropVerdict::Done, _) => Phrase::new("drop.done", values),
        (DropVerdict::TooThickOrDry, _) => Phrase::new("drop.too_thick", values),
        (DropVerdict::Settling, None) => Phrase::new("drop.settling", values),
        (DropVerdict::Settling, Some(left)) => {
            let [mean, most, spread, (count, _)] = values;
            Phrase::new("drop.settling_left", [mean, most, spread, (count, left.into())])
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    /// Rounds at places from the mean drop of each pass, places straying a little to either side.
    fn rounds(drops: &[f64], stray: &[f64]) -> DropTest {
        let mut rounds = vec![stray.iter().map(|_| 200.0).collect::<Vec<f64>>()];
        for drop in drops {
            let last = rounds.last().unwrap();
            rounds.push(last.iter().zip(stray).map(|(r, s)| r + drop * (1.0 + s)).collect());
        }
        let mm = |round: &Vec<f64>| round.iter().map(|r| Length::from_mm(*r)).collect();
        DropTest::new(rounds.iter().map(mm).collect()).unwrap()
    }

    const SIX: [f64; 6] = [0.1, -0.1, 0.2, -0.2, 0.0, 0.0];

    #[test]
    fn halving_drops_by_hand() {
        // Hand arithmetic: 9, 4.5, 2.25 mm; the next would be 1.125, and the one after that 0.5625.
        let answer = rounds(&[9.0, 4.5, 2.25], &SIX).answer();
        assert_eq!((answer.verdict, answer.passes_left), (DropVerdict::Settling, Some(2)));
        assert!((answer.passes[2].mean.to_mm() - 2.25).abs() < 1e-9);
        assert!((answer.passes[2].most.abs().to_mm() - 2.7).abs() < 1e-9);
        assert!(answer.says.text.contains('2'), "{}", answer.says.text);
        assert!(answer.cautions.is_empty());
    }

    #[test]
    fn under_one_in_the_mean_and_none_over_two_is_the_limit() {
        let verdict = |drops: &[f64], stray: &[f64]| rounds(drops, stray).answer().verdict;
        assert_eq!(verdict(&[0.99], &SIX), DropVerdict::Done);
        assert_eq!(verdict(&[1.0], &SIX), DropVerdict::Settling);
        // One place drops exactly 2 mm: not more than 2. One drops more: it is not done.
        assert_eq!(verdict(&[0.5], &[3.0, 0.0, 0.0, 0.0, 0.0, -3.0]), DropVerdict::Done);
        assert_eq!(verdict(&[0.5], &[3.1, 0.0, 0.0, 0.0, 0.0, -3.1]), DropVerdict::Settling);
    }

    #[test]
    fn drops_that_do_not_slacken_are_a_lift_too_thick_or_dry() {
        let answer = rounds(&[5.0, 5.0, 5.2], &SIX).answer();
        assert_eq!((answer.verdict, answer.passes_left), (DropVerdict::TooThickOrDry, None));
    }

    #[test]
    fn one_pass_is_no_decay_and_few_places_are_said() {
        let answer = rounds(&[4.0], &[0.1, 0.0, -0.1]).answer();
        assert_eq!((answer.verdict, answer.passes_left), (DropVerdict::Settling, None));
        assert_eq!(answer.cautions.len(), 1);
        let rising = rounds(&[-3.0], &SIX).answer();
        assert_eq!(rising.verdict, DropVerdict::Settling);
        assert_eq!(rising.cautions.len(), 1);
    }

    #[test]
    fn what_is_no_drop_test_is_refused() {
        let round = |n: usize| vec![Length::from_mm(200.0); n];
        assert_eq!(DropTest::new(vec![]), Err(DropTestError::OneRound));
        assert_eq!(DropTest::new(vec![round(6)]), Err(DropTestError::OneRound));
        assert_eq!(DropTest::new(vec![round(2), round(2)]), Err(DropTestError::FewPlaces));
        assert_eq!(DropTest::new(vec![round(6), round(5)]), Err(DropTestError::OtherPlaces));
    }

    proptest! {
        #[test]
        fn an_exact_decay_is_found_again(first in 1.0_f64..30.0, ratio in 0.05_f64..0.95, n in 2_i32..7) {
            let means: Vec<f64> = (0..n).map(|k| first * ratio.powi(k)).collect();
            let found = decay(&means).unwrap();
            prop_assert!((found.first - first).abs() < 1e-4 * first, "{:?}", found);
            prop_assert!((found.ratio - ratio).abs() < 1e-4, "{:?}", found);
        }

        #[test]
        fn any_readings_have_an_answer(
            readings in prop::collection::vec(prop::collection::vec(0.0_f64..500.0, 4), 2..8),
        ) {
            let mm = |round: &Vec<f64>| round.iter().map(|r| Length::from_mm(*r)).collect();
            let answer = DropTest::new(readings.iter().map(mm).collect()).unwrap().answer();
            prop_assert_eq!(answer.passes.len(), readings.len() - 1);
            prop_assert!(!answer.says.text.contains(['{', '@']), "{}", answer.says.text);
        }
    }
}
