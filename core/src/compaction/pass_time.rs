//! The time that one pass takes.

use crate::units::{Area, Duration, Length, Speed};

/// Why no time can be told: the overlap leaves no strip, or nothing moves.
#[derive(Debug, Clone, Copy, PartialEq, Eq, thiserror::Error)]
#[error("a pass needs a strip wider than its overlap, and a speed above 0")]
pub struct NoStrip;

/// The least time in which a plate or drum of this width goes once over the whole of an area, each
/// strip lapping over the last: A / ((b - o) v).
///
/// # Errors
/// [`NoStrip`] where the overlap is as wide as the plate, or the speed is not above 0.
pub fn pass_time(
    area: Area,
    width: Length,
    overlap: Length,
    speed: Speed,
) -> Result<Duration, NoStrip> {
    let strip = width - overlap;
    if strip > Length::ZERO && speed > Speed::ZERO {
        Ok(area / strip / speed)
    } else {
        Err(NoStrip)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_pass_over_a_small_drive() {
        // Hand arithmetic (capability C20): 38.5 m2, strip 0.42 m at 20 m/min: 4.6 min a pass.
        let (area, speed) = (Area::from_m2(38.5), Speed::from_m_per_min(20.0));
        let mm = Length::from_mm;
        let time = pass_time(area, mm(500.0), mm(80.0), speed).unwrap();
        assert!((time.to_min() - 4.6).abs() < 0.05, "{time:?}");
        assert_eq!(pass_time(area, mm(500.0), mm(500.0), speed), Err(NoStrip));
        assert_eq!(pass_time(area, mm(500.0), mm(80.0), Speed::ZERO), Err(NoStrip));
    }
}
