//! Money in whole minor units: pence, cents. Sums are checked, never wrapped and never rounded.

/// A price or a total in whole minor units of one currency.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Default)]
pub struct Money(i64);

impl Money {
    /// Nothing.
    pub const ZERO: Money = Money(0);

    /// From minor units.
    pub const fn from_minor(minor: i64) -> Money {
        Money(minor)
    }

    /// In minor units.
    pub const fn to_minor(self) -> i64 {
        self.0
    }

    /// The sum; none where it is beyond what can be held.
    pub fn checked_add(self, other: Money) -> Option<Money> {
        self.0.checked_add(other.0).map(Money)
    }

    /// So many times; none where it is beyond what can be held.
    pub fn checked_times(self, count: u32) -> Option<Money> {
        self.0.checked_mul(i64::from(count)).map(Money)
    }

    /// The sum of all; none where it is beyond what can be held.
    pub fn checked_sum(all: impl IntoIterator<Item = Money>) -> Option<Money> {
        all.into_iter().try_fold(Money::ZERO, Money::checked_add)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn sums_that_would_overflow_are_none() {
        let most = Money::from_minor(i64::MAX);
        assert_eq!(most.checked_add(Money::from_minor(1)), None);
        assert_eq!(most.checked_times(2), None);
        assert_eq!(Money::from_minor(499).checked_times(12), Some(Money::from_minor(5988)));
        assert_eq!(Money::checked_sum([most, Money::ZERO]), Some(most));
        assert_eq!(Money::checked_sum([most, most]), None);
    }
}
