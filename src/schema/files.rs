//! Rows of what stands in column 0 and is not a thing of the wall: edition, imports, project, site, limits, acceptances.

use super::{Row, row};

pub(super) const ROWS: &[Row] = &[
    row("file", "wythe", "<edition:integer>", "the edition of the language this file is written in").body("edition"),
    row("edition", "version", "<number:integer>", "the version of this file, printed with every detail taken from it"),
    row(
        "file",
        "use",
        "<module:path> [<names:names>]",
        "brings in names from the library, a file beside this one, or a package",
    )
    .many()
    .body("use"),
    row("use", "version", "<number:integer>", "refuses any other version of the file"),
    row("file", "project", "<name:new>", "what the job is called and how numbers are shown").body("project"),
    row("project", "title", "<text:text>", "printed at the head of every sheet"),
    row("project", "units", "<system:word(metric|imperial)>", "which unit is printed first; both are always printed"),
    row(
        "project",
        "price",
        "<product:ref(product)> <amount:number> [per <unit:word(piece|metre|square_metre|roll|box|tube)>]",
        "what a product costs on this job, in the project's currency; it stands before the price the product says itself",
    )
    .many(),
    row("project", "revision", "<text:text>", "printed in the corner of every sheet"),
    row("file", "site", "<name:new>", "where the building stands: climate, wind, rain, snow, rule set").body("site"),
    row("site", "climate", "<of:ref(climate)>", "the climate the figures are computed for"),
    row("site climate", "wind", "<pressure:quantity(pressure)>", "reference wind pressure").body("wind"),
    row("wind", "return", "<period:quantity(time)>", "mean time between winds of that pressure"),
    row("site climate", "driving_rain", "<pressure:quantity(pressure)>", "driving-rain wind pressure").body("sourced"),
    row("site", "snow", "<depth:length>", "usual depth of snow against the wall"),
    row(
        "site",
        "freeze_thaw",
        "<cycles:word(rare|some|many)>",
        "how often the outside of the wall freezes and thaws while wet",
    ),
    row("site", "salt", "<from:word(none|road|sea)>", "where chlorides come from"),
    row("site", "wildfire", "<zone:word(no|yes)>", "whether ember rules apply"),
    row("site", "terrain", "<kind:word(open|rough)>", "how rough the country upwind is"),
    row("site", "interior", "<humidity:word(dry|normal|humid|pool)>", "how humid the rooms are in winter"),
    row("site", "indoors", "<temperature:quantity(temperature)>", "temperature of the rooms, for moisture by the month"),
    row(
        "site",
        "humidity_class",
        "<class:integer>",
        "how much vapour is given to the rooms, 1 (stores) to 5 (pools): humidity class of ISO 13788",
    ),
    row("site", "limits", "<of:refs(limits)>", "the rule sets in force, first one first"),
    row("file", "climate", "<name:new>", "twelve months and the extremes of a place").many().body("climate"),
    row(
        "climate",
        "temperature",
        "<months:quantity_tuple(temperature)>",
        "mean outdoor temperature, January to December",
    )
    .body("sourced"),
    row("climate", "humidity", "<months:number_tuple>", "mean outdoor relative humidity, January to December")
        .body("sourced"),
    row("climate", "wind_speed", "<months:quantity_tuple(speed)>", "mean wind speed, January to December")
        .body("sourced"),
    row("climate", "rain", "<months:length_tuple>", "rain, January to December").body("sourced"),
    row(
        "climate",
        "hours",
        "<file:text>",
        "a file of the project with a measured year, one hour a line: hour (1 to 8760), temperature, humidity, rain, wind, and if \
         known wind_from and sun, named in its header with their units: `hour, temperature degC, humidity %, rain mm, wind m/s`",
    )
    .body("sourced"),
    row("climate", "latitude", "<angle:quantity(angle)>", "how far north of the equator the place lies").body("sourced"),
    row(
        "climate",
        "sun",
        "<months:quantity_tuple(heat_flux)>",
        "mean sun on level ground, day and night, January to December: W/m2, or MJ/(m2.day)",
    )
    .body("sourced"),
    row(
        "climate",
        "clearness",
        "<share:number>",
        "share of the sun of a clear sky that reaches level ground, where no `sun` is known",
    )
    .body("sourced"),
    row(
        "climate",
        "rain_index",
        "<directions:length_tuple>",
        "driving rain of a year in the open, on walls that look north, north-east and so on round to north-west: eight \
         values, a millimetre is a litre on each square metre",
    )
    .basis("airfield index of ISO 15927-3")
    .body("sourced"),
    row(
        "site face",
        "rain_factor",
        "<value:number> for <what:word(terrain|hill|shelter|wall)>",
        "what a wall gets of the driving rain in the open: by the ground upwind, a hill, what stands before it, its \
         overhangs; a face says it before the site",
    )
    .many()
    .basis("roughness, topography, obstruction and wall factor of ISO 15927-3; its tables are not in the library")
    .body("sourced"),
    row("climate", "extremes", "<range:quantity(temperature)>", "coldest and hottest design air temperature")
        .body("sourced"),
    row("climate", "degree_days", "<number:number>", "heating degree-days below 18 °C").body("sourced"),
    row("climate", "moisture_index", "<number:number>", "moisture index of the code's climate table").body("sourced"),
    row(
        "climate material product limits detail",
        "like",
        "<base:ref(climate|material|product|limits|detail)>",
        "takes everything from another declaration; what stands here replaces it",
    ),
    row(
        "climate material product limits detail assembly",
        "without",
        "<name:path>",
        "removes a statement taken from `like`",
    )
    .many(),
    row("climate material product limits detail assembly", "note", "<text:text>", "a remark that travels with it")
        .many(),
    row(
        "climate material product",
        "source",
        "<text:text>",
        "where the values were read, unless a value says otherwise",
    ),
    row(
        "climate material product",
        "sure",
        "<how:word(published|verified|summary|memory|habit)>",
        "how sure the values are, unless a value says otherwise",
    ),
    row("sourced", "source", "<text:text>", "where this value was read"),
    row(
        "sourced",
        "sure",
        "<how:word(published|verified|summary|memory|habit)>",
        "how sure it is: read in the standard, recomputed, read in a summary, from memory, or crew habit",
    ),
    row("sourced", "note", "<text:text>", "a remark that travels with the value"),
    row("file", "limits", "<name:new>", "a rule set: numbers with clause, edition, jurisdiction, and how sure")
        .many()
        .body("limits"),
    row("limits", "edition", "<text:text>", "the edition all limits of this set are from"),
    row("limits", "jurisdiction", "<text:text>", "where it is in force"),
    row("limits", "title", "<text:text>", "as printed on the sheets"),
    row("limits", "limit", "<name:path> <value:any>", "one number that rules read").many().body("limit"),
    row(
        "limits",
        "option",
        "<name:path> <choice:path>",
        "the side this set takes where the trade's sources disagree: `gap.top open`",
    )
    .many()
    .body("limit"),
    row("limit", "clause", "<text:text>", "clause or table"),
    row("limit", "source", "<text:text>", "where it was read, or why the project changed it"),
    row(
        "limit",
        "sure",
        "<how:word(published|verified|summary|memory|habit)>",
        "a limit from memory or habit warns and never counts as a violation",
    ),
    row("limit", "note", "<text:text>", "a remark printed with it"),
    row(
        "file",
        "rule",
        "<name:new> for <subject:word(layer|gap|furring|opening|edge|area|service|block|trim|product|face)>",
        "a rule of the office, checked and shown like a built-in one",
    )
    .many()
    .body("rule"),
    row(
        "rule",
        "where",
        "<property:path> <relation:word(is|is_not|at_least|at_most|has|has_not)> <value:any>",
        "only things of which this is true are asked",
    )
    .many(),
    row(
        "rule",
        "wants",
        "<property:path> <relation:word(is|is_not|at_least|at_most|has|has_not)> <value:any>",
        "what must be true of them",
    )
    .many(),
    row("rule", "says", "<text:text>", "the message"),
    row("rule", "advice", "<text:text>", "what to do").many(),
    row("rule", "grade", "<grade:word(S1|S2|S3|S4)>", "how bad it is; S3 if left out"),
    row(
        "rule",
        "before",
        "<hold:word(H0|H1|H2|H3|H4|H5|H6|H7)>",
        "hold point before which it must be mended; H5 if left out",
    ),
    row("rule", "source", "<text:text>", "whose rule it is"),
    row(
        "rule",
        "sure",
        "<how:word(published|verified|summary|memory|habit)>",
        "how sure the number is; habit if left out",
    ),
    row(
        "file face assembly",
        "accept",
        "<rule:path> on <place:path> because <why:text> by <who:text> [until <until:date>]",
        "a finding knowingly accepted; it stays visible in every output",
    )
    .many()
    .body("accept"),
    row("accept", "authority", "of <role:text>", "who stands behind accepting a stop-severity finding"),
    row("accept", "reference", "<text:text>", "the letter or drawing in which they did"),
    row("accept", "dated", "<date:date>", "the date of that letter"),
    row("accept", "not_worse_than", "<value:any>", "the measured value that was accepted"),
    row(
        "file",
        "section",
        "<name:new> on <face:path> [from <from:where>] [to <to:where>] [up to <height:length>]",
        "the crew's unit of work: a lane of the wall up to a course line",
    )
    .many()
    .body("section"),
    row("section", "course", "<number:integer>", "the course line at its top"),
    row(
        "section",
        "dry_in",
        "<method:word(flap|cover|sealed|open)> [<length:length>]",
        "how its top edge is kept dry overnight: a flap turned out this far, a cover, a sealed edge, or left open",
    )
    .basis("flap of 150 mm: common practice"),
    row("section", "platform", "<rating:quantity(mass)>", "what the platform may carry"),
    row("section", "deck", "<height:length>", "height of the platform above the datum, once for each setting").many(),
    row("section", "reach", "<height:length>", "how high hands reach above the platform")
        .basis("1500 mm, the height of the shoulder: common practice"),
    row("section", "loads", "<number:integer>", "in how many loads its kit goes up; one if left out"),
    row("section", "note", "<text:text>", "a remark for the crew"),
    row("file", "crew", "<name:new>", "who does the work, what lifts them, and how fast they were when they timed themselves")
        .body("crew"),
    row("crew", "people", "<count:integer> of <each:quantity(mass)>", "who stand on the platform, and what each weighs dressed for work"),
    row("crew", "tools", "<mass:quantity(mass)>", "what saws, tools and boxes on the platform weigh together"),
    row("crew", "sundries", "<mass:quantity(mass)>", "what screws, tapes, sealant and screens weigh that no product has a weight for, in one load"),
    row("crew", "platform", "<rating:quantity(mass)>", "what the platform may carry, where a section does not say"),
    row("crew", "length", "<value:length>", "how long the platform is along the wall"),
    row("crew", "outreach", "<value:length>", "how far hands reach past either end of the platform"),
    row("crew", "lift", "<height:length>", "how high above the datum the platform can go"),
    row(
        "crew",
        "pace",
        "<what:word(board|trim|furring|flashing)> <time:quantity(time)>",
        "what the whole crew takes to fix one piece, as they timed it",
    )
    .many(),
    row("crew", "move", "<time:quantity(time)>", "what it takes to bring the machine to its next place"),
    row("crew", "setting", "<time:quantity(time)>", "what it takes to set the platform at its next height"),
    row("crew", "order", "<sections:names>", "the order of sections that the lead wants"),
    row(
        "crew",
        "out_of_reach",
        "on <face:path> [from <from:where>] [to <to:where>] [above <low:length>] [up to <high:length>] [by <means:word(ladder|scaffold)>] [because <why:text>]",
        "where the machine cannot go: soft ground, beds, lines overhead",
    )
    .many(),
    row(
        "file",
        "evidence",
        "<hold:word(H0|H1|H2|H3|H4|H5|H6|H7)> on <place:path> by <who:text> [until <until:date>]",
        "what was seen at a hold point",
    )
    .many()
    .body("evidence"),
    row("evidence", "seen", "<date:date>", "when"),
    row("evidence", "photo", "<text:text>", "the file or number of the photograph").many(),
    row("evidence", "reading", "<text:text>", "a measured value").many(),
    row("evidence", "note", "<text:text>", "a remark"),
];
