//! A date and time for people, in UTC because the time zone is unknown.

const DAY_S: u64 = 86_400;
const MONTHS: [&str; 12] = [
    "January",
    "February",
    "March",
    "April",
    "May",
    "June",
    "July",
    "August",
    "September",
    "October",
    "November",
    "December",
];

/// Seconds since the beginning of 1970 UTC as day and time: `5 March 2026, 07:08 UTC`.
pub fn utc(seconds: u64) -> String {
    let (mut day, of_day) = (seconds / DAY_S, seconds % DAY_S);
    let mut year = 1970;
    // Whole periods of 400 years first, so that the loop is short for any number.
    let round = 365 * 400 + 97;
    year += day / round * 400;
    day %= round;
    while day >= days_of(year) {
        day -= days_of(year);
        year += 1;
    }
    let mut name = MONTHS[0];
    for (place, month) in MONTHS.iter().enumerate() {
        let days = days_in(year, place);
        if day < days {
            name = month;
            break;
        }
        day -= days;
    }
    let (hour, minute) = (of_day / 3600, of_day / 60 % 60);
    format!("{} {name} {year}, {hour:02}:{minute:02} UTC", day + 1)
}

fn is_leap(year: u64) -> bool {
    year.is_multiple_of(4) && (!year.is_multiple_of(100) || year.is_multiple_of(400))
}

fn days_of(year: u64) -> u64 {
    if is_leap(year) { 366 } else { 365 }
}

/// `month`: from 0.
fn days_in(year: u64, month: usize) -> u64 {
    match month {
        1 if is_leap(year) => 29,
        1 => 28,
        3 | 5 | 8 | 10 => 30,
        _ => 31,
    }
}
