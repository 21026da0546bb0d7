//! The day, for the head of a page.

use std::time::{SystemTime, UNIX_EPOCH};

/// Seconds a day.
const DAY: u64 = 86_400;

/// Today in UTC, as ISO 8601 writes it: `2026-05-17`. Empty where the machine has no clock.
pub(super) fn today() -> String {
    SystemTime::now().duration_since(UNIX_EPOCH).map_or_else(|_| String::new(), |t| day(t.as_secs() / DAY))
}

/// The date so many days after 1970-01-01, by the Gregorian calendar: years of 365 days, a leap day in every fourth
/// year but not in three of four full centuries.
fn day(since: u64) -> String {
    let mut rest = since;
    let mut year = 1970;
    let leap = |year: u64| (year.is_multiple_of(4) && !year.is_multiple_of(100)) || year.is_multiple_of(400);
    while rest >= 365 + u64::from(leap(year)) {
        rest -= 365 + u64::from(leap(year));
        year += 1;
    }
    let months = [31, 28 + u64::from(leap(year)), 31, 30, 31, 30, 31, 31, 30, 31, 30, 31];
    let mut month = 1;
    for length in months {
        if rest < length {
            break;
        }
        rest -= length;
        month += 1;
    }
    format!("{year:04}-{month:02}-{:02}", rest + 1)
}

#[cfg(test)]
mod tests {
    use super::day;

    /// Days counted with Python's `datetime.date.toordinal`.
    #[test]
    fn days_are_those_of_the_calendar() {
        for (since, date) in [
            (0, "1970-01-01"),
            (58, "1970-02-28"),
            (59, "1970-03-01"),
            (11_016, "2000-02-29"),
            (11_017, "2000-03-01"),
            (20_590, "2026-05-17"),
            (47_540, "2100-02-28"),
            (47_541, "2100-03-01"),
        ] {
            assert_eq!(day(since), date, "{since}");
        }
    }
}
