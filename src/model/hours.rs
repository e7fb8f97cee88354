//! Measured hours of a place, read from a file of the project: one hour a line, under a header that names its columns.

use crate::diagnose::{Diagnostic, did_you_mean};
use crate::source::{ReadError, Span, World};
use crate::units::{Dimension, Unit};

use super::Model;

/// Hours of a year of 365 days.
const HOURS: usize = 8760;
/// Mistakes of a file that are told one by one.
const TOLD: usize = 5;
/// Stretches of missing hours that are named.
const NAMED: usize = 3;

/// A measured year. Each list has an hour for each of the year's, from the first of January; those of columns that the file has
/// not are empty.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct MeasuredHours {
    /// The file.
    pub file: String,
    /// °C.
    pub temperature: Vec<f64>,
    /// Relative humidity, 0…1.
    pub humidity: Vec<f64>,
    /// On level ground, mm in the hour.
    pub rain: Vec<f64>,
    /// m/s.
    pub wind: Vec<f64>,
    /// Where the wind comes from, degrees clockwise from north.
    pub wind_from: Vec<f64>,
    /// On level ground, W/m².
    pub sun: Vec<f64>,
}

/// One column: its name, the unit meant where the header gives none, what it measures, least and most in base units.
struct Column(&'static str, &'static str, Dimension, f64, f64);

const HOUR: &str = "hour";
const COLUMNS: [Column; 6] = [
    Column("temperature", "degC", Dimension::TEMPERATURE, -90.0, 70.0),
    Column("humidity", "%", Dimension::NUMBER, 1e-3, 1.0),
    Column("rain", "mm", Dimension::LENGTH, 0.0, 0.5),
    Column("wind", "m/s", Dimension::SPEED, 0.0, 120.0),
    Column("wind_from", "deg", Dimension::ANGLE, 0.0, 6.284),
    Column("sun", "W/m2", Dimension::HEAT_FLUX, 0.0, 1500.0),
];
/// How many of them must be there.
const NEEDED: usize = 4;

/// A column of a file: which of [`COLUMNS`], base units in one, and the reading at 0 °C.
type Heading = (usize, f64, f64);

/// Reads the file that the climate of the site names, if it names one; what is wrong with it is a problem of the model.
pub fn read_hours(world: &dyn World, model: &mut Model) {
    let climate = model.site.as_mut().and_then(|site| site.climate.as_mut());
    let Some((climate, (file, at))) = climate.and_then(|climate| {
        let named = climate.hours.clone()?;
        Some((climate, named))
    }) else {
        return;
    };
    let mut problems = Vec::new();
    climate.measured = Some(match world.read(&file) {
        Ok(text) => parse(&text, &file, at, &mut problems),
        Err(error) => {
            problems.push(unread(&file, at, &error));
            Err(format!("measured hours (`{file}` could not be read)"))
        }
    });
    model.problems.extend(problems);
}

fn unread(file: &str, at: Span, error: &ReadError) -> Diagnostic {
    let why = match error {
        ReadError::Missing => "there is no such file in the project folder".to_owned(),
        ReadError::NotUtf8(offset) => format!("it is no text: byte {offset} is not UTF-8"),
        ReadError::Other(why) => why.clone(),
    };
    Diagnostic::error("hours.unread", at, format!("`{file}` could not be read: {why}"))
        .help("name a file of the project, from its folder: `hours \"weather.csv\"`")
}

fn wrong(file: &str, at: Span, line: usize, what: &str) -> Diagnostic {
    Diagnostic::error("hours.line", at, format!("line {line} of `{file}`: {what}"))
}

/// The hours of a text; the error says which are missing.
fn parse(text: &str, file: &str, at: Span, problems: &mut Vec<Diagnostic>) -> Result<MeasuredHours, String> {
    let text = text.trim_start_matches('\u{feff}');
    let lines = text.lines().enumerate().map(|(index, line)| (index + 1, line.trim()));
    let mut lines = lines.filter(|(_, line)| !line.is_empty() && !line.starts_with('#'));
    let missing = || format!("measured hours (`{file}` has mistakes)");
    let Some((number, header)) = lines.next() else {
        problems.push(wrong(file, at, 1, "the file is empty: it wants a header and 8760 hours"));
        return Err(missing());
    };
    let headings = match headings(header) {
        Ok(headings) => headings,
        Err((what, help)) => {
            let problem = wrong(file, at, number, &what);
            problems.push(help.into_iter().fold(problem, Diagnostic::help));
            return Err(missing());
        }
    };
    let mut values = vec![vec![None; HOURS]; COLUMNS.len()];
    let mut slips = 0;
    for (number, line) in lines {
        if let Err(what) = row(line, &headings, &mut values) {
            slips += 1;
            if slips <= TOLD {
                problems.push(wrong(file, at, number, &what));
            }
        }
    }
    if slips > TOLD {
        let more = slips - TOLD;
        problems.push(Diagnostic::error("hours.line", at, format!("`{file}`: {more} more lines with mistakes")));
    }
    whole(file, &headings, &values)
}

/// What the columns of a header are; nothing for that of the hour, which stands first.
fn headings(header: &str) -> Result<Vec<Heading>, (String, Option<String>)> {
    let mut cells = header.split(',').map(str::trim);
    if cells.next() != Some(HOUR) {
        return Err((format!("the header begins with `{HOUR}`"), None));
    }
    let headings: Vec<Heading> = cells.map(heading).collect::<Result<_, _>>()?;
    let has = |column: usize| headings.iter().filter(|heading| heading.0 == column).count();
    for (index, column) in COLUMNS.iter().enumerate() {
        if has(index) > 1 {
            return Err((format!("two columns are called `{}`", column.0), None));
        }
        if index < NEEDED && has(index) == 0 {
            return Err((format!("there is no column `{}`", column.0), None));
        }
    }
    Ok(headings)
}

fn heading(cell: &str) -> Result<Heading, (String, Option<String>)> {
    let (name, unit) = cell.split_once(' ').unwrap_or((cell, ""));
    let names = COLUMNS.iter().map(|column| column.0);
    let index = COLUMNS.iter().position(|column| column.0 == name);
    let index = index.ok_or_else(|| (format!("no column is called `{name}`"), did_you_mean(name, names)))?;
    let column = &COLUMNS[index];
    let unit = if unit.trim().is_empty() { column.1 } else { unit.trim() };
    let known = Unit::parse(unit).ok().filter(|known| known.dimension == column.2);
    let known = known.ok_or_else(|| (format!("`{unit}` is no unit for `{name}`: `{name} {}`", column.1), None))?;
    Ok((index, known.scale.value(), known.zero as f64))
}

/// Puts a line in its place.
fn row(line: &str, headings: &[Heading], values: &mut [Vec<Option<f64>>]) -> Result<(), String> {
    let cells: Vec<&str> = line.split(',').map(str::trim).collect();
    if cells.len() != headings.len() + 1 {
        return Err(format!("{} values under {} columns", cells.len(), headings.len() + 1));
    }
    let hour: Option<usize> = cells[0].parse().ok().filter(|hour| (1..=HOURS).contains(hour));
    let hour = hour.ok_or_else(|| format!("`{}` is no hour of the year, 1 to {HOURS}", cells[0]))?;
    for (cell, (index, scale, zero)) in cells[1..].iter().zip(headings) {
        // An hour without a value is missing, which is no mistake.
        if cell.is_empty() {
            continue;
        }
        let Column(name, unit, _, least, most) = COLUMNS[*index];
        let value: f64 = cell.parse().map_err(|_| format!("{name} is `{cell}`, which is no number"))?;
        let value = (value - zero) * scale;
        if !(least..=most).contains(&value) {
            return Err(format!("{name} is {cell}, which cannot be (`{name} {unit}` where the header gives no unit)"));
        }
        let place = values.get_mut(*index).and_then(|column| column.get_mut(hour - 1));
        let Some(place) = place else { continue };
        if place.replace(value).is_some() {
            return Err(format!("hour {hour} stands twice"));
        }
    }
    Ok(())
}

/// All columns, if every hour is there; the error says which are missing.
fn whole(file: &str, headings: &[Heading], values: &[Vec<Option<f64>>]) -> Result<MeasuredHours, String> {
    let present = |index: usize| headings.iter().any(|heading| heading.0 == index);
    let gone = |hour: &usize| (0..COLUMNS.len()).any(|index| present(index) && values[index][*hour].is_none());
    let missing: Vec<usize> = (0..HOURS).filter(gone).collect();
    if !missing.is_empty() {
        return Err(format!("{} of `{file}`", stretches(&missing)));
    }
    let column = |index: usize, by: f64| -> Vec<f64> {
        if present(index) { values[index].iter().flatten().map(|value| value * by).collect() } else { Vec::new() }
    };
    Ok(MeasuredHours {
        file: file.to_owned(),
        temperature: column(0, 1.0),
        humidity: column(1, 1.0),
        rain: column(2, 1000.0),
        wind: column(3, 1.0),
        wind_from: column(4, 1.0).into_iter().map(f64::to_degrees).collect(),
        sun: column(5, 1.0),
    })
}

/// "hours 17 to 23, 40 and 2 more stretches", counted from 1.
fn stretches(missing: &[usize]) -> String {
    let runs: Vec<&[usize]> = missing.chunk_by(|one, next| one + 1 == *next).collect();
    let name = |run: &&[usize]| match (run.first(), run.last()) {
        (Some(first), Some(last)) if first != last => format!("{} to {}", first + 1, last + 1),
        (Some(first), _) => (first + 1).to_string(),
        _ => String::new(),
    };
    let named: Vec<String> = runs.iter().take(NAMED).map(name).collect();
    let more = match runs.len().saturating_sub(NAMED) {
        0 => String::new(),
        1 => " and 1 more stretch".to_owned(),
        more => format!(" and {more} more stretches"),
    };
    format!("hours {}{more}", named.join(", "))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn text(header: &str, line: impl Fn(usize) -> Option<String>) -> String {
        let lines = (1..=HOURS).filter_map(line);
        std::iter::once(header.to_owned()).chain(lines).collect::<Vec<_>>().join("\n")
    }

    fn parsed(text: &str) -> (Result<MeasuredHours, String>, Vec<String>) {
        let mut problems = Vec::new();
        let hours = parse(text, "w.csv", Span::default(), &mut problems);
        (hours, problems.into_iter().map(|problem| problem.title).collect())
    }

    #[test]
    fn units_of_the_header_count() {
        let header = "hour, temperature degF, humidity %, rain in, wind km/h, wind_from deg, sun W/m2";
        let (hours, problems) = parsed(&text(header, |hour| Some(format!("{hour},50,80,0.1,36,270,120"))));
        assert_eq!(problems, Vec::<String>::new());
        let hours = hours.unwrap();
        let near = |ours: f64, theirs: f64| assert!((ours - theirs).abs() < 1e-9, "{ours} {theirs}");
        near(hours.temperature[0], 10.0);
        near(hours.humidity[8759], 0.8);
        near(hours.rain[17], 2.54);
        near(hours.wind[17], 10.0);
        near(hours.wind_from[17], 270.0);
        near(hours.sun[17], 120.0);
    }

    #[test]
    fn missing_hours_are_named() {
        let gone = |hour: usize| (17..=23).contains(&hour) || [40, 100, 200, 300].contains(&hour);
        let line = |hour: usize| {
            let wind = if hour == 500 { "" } else { "3" };
            (!gone(hour)).then(|| format!("{hour},10,80,0,{wind}"))
        };
        let (hours, problems) = parsed(&text("hour,temperature,humidity,rain,wind", line));
        assert_eq!(problems, Vec::<String>::new());
        assert_eq!(hours.unwrap_err(), "hours 17 to 23, 40, 100 and 3 more stretches of `w.csv`");
    }

    #[test]
    fn mistakes_are_told_with_their_line() {
        let (_, problems) = parsed("hour,temperature,humidity,rain\n");
        assert_eq!(problems, ["line 1 of `w.csv`: there is no column `wind`"]);
        let (_, problems) = parsed("# made by hand\nhour,temprature,humidity,rain,wind\n");
        assert_eq!(problems, ["line 2 of `w.csv`: no column is called `temprature`"]);
        let (_, problems) = parsed("hour,temperature m,humidity,rain,wind\n");
        assert_eq!(problems, ["line 1 of `w.csv`: `m` is no unit for `temperature`: `temperature degC`"]);
        let (hours, problems) = parsed(
            "hour,temperature,humidity,rain,wind\n1,2,80,0,3\n1,2,80,0,3\n2,warm,80,0,3\n3,1,80\n0,1,80,0,3\n4,1,180,0,3",
        );
        let told = [
            "line 3 of `w.csv`: hour 1 stands twice",
            "line 4 of `w.csv`: temperature is `warm`, which is no number",
            "line 5 of `w.csv`: 3 values under 5 columns",
            "line 6 of `w.csv`: `0` is no hour of the year, 1 to 8760",
            "line 7 of `w.csv`: humidity is 180, which cannot be (`humidity %` where the header gives no unit)",
        ];
        assert_eq!(problems, told);
        assert_eq!(hours.unwrap_err(), "hours 2 to 8760 of `w.csv`");
        assert_eq!(parsed("").1, ["line 1 of `w.csv`: the file is empty: it wants a header and 8760 hours"]);
    }
}
