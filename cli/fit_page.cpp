// The page of fit: what the readings narrowed, before and after, each reading on what was foretold
// of it, and which one to take next.

#include "cli/fit.hpp"
#include "cli/output.hpp"
#include "cli/picture.hpp"
#include "loadline/words/learnt_words.hpp"
#include "loadline/words/reading_words.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>
#include <algorithm>
#include <iterator>
#include <utility>

namespace loadline::cli {
namespace {

// So many pictures and bars; the tables have all.
constexpr std::size_t most_drawn = 8;

Density drawn_in(const DrawnIn& in, Density density) {
    for (double& x : density.x)
        x = in.of(x);
    for (double& height : density.height)
        height *= in.per_unit;
    return density;
}

Band nine_in_ten_of(const Predicted& predicted) {
    const double half = nine_in_ten_half * predicted.uncertainty;
    return {predicted.value - half, predicted.value + half};
}

Band drawn_in(const DrawnIn& in, const Band& band) {
    return {in.of(band.low), in.of(band.high)};
}

bool widened(const LearntThing& thing) {
    return thing.after.uncertainty > thing.before.uncertainty;
}

// Two shapes in one row; what is wider is grey.
PagePicture thing_picture(const Taught& a, const LearntThing& thing, Units units) {
    const DrawnIn in = thing_drawn_in(a.study, thing, units);
    const auto shape = [&](const Density& density, const Predicted& predicted, const char* label) {
        return DrawnDensity{drawn_in(in, density),
                            drawn_in(in, nine_in_ten_of(predicted)),
                            in.of(predicted.value),
                            {},
                            label};
    };
    DensityPicture picture;
    const std::string name = thing_name(a.from, a.study, thing);
    picture.title = fmt::format("{}: {}", name, drawn_predicted(thing.after, in));
    picture.alternative =
        fmt::format("{}: {} before the readings, {} after", name, drawn_predicted(thing.before, in),
                    drawn_predicted(thing.after, in));
    picture.unit = in.unit;
    DensityRow row;
    row.shapes = {shape(thing.was, thing.before, "before"), shape(thing.is, thing.after, "after")};
    if (widened(thing))
        std::swap(row.shapes[0], row.shapes[1]);
    row.shapes[0].ink = {Ink::grey};
    row.shapes[1].ink = {Ink::series, 0};
    picture.rows.push_back(std::move(row));
    return picture_of(picture);
}

PageSection taught_section(const Taught& a, Units units) {
    PageSection section;
    section.heading = "What the readings taught";
    section.paragraphs = {
        "Grey is what was known before the readings; nine in ten lie in the stronger tint."};
    if (std::any_of(a.study.things.begin(), a.study.things.end(), widened))
        section.paragraphs.emplace_back("Where they widened a range, the wider one is grey.");
    section.list.assign(a.learnt.begin() + std::min<std::ptrdiff_t>(1, std::ssize(a.learnt)),
                        a.learnt.end());
    section.list.insert(section.list.end(), a.open.begin(),
                        a.open.end() - std::min<std::ptrdiff_t>(1, std::ssize(a.open)));
    const std::vector<LearntThing>& things = a.study.things;
    for (std::size_t i = 0; i < std::min(most_drawn, things.size()); ++i)
        section.pictures.push_back(thing_picture(a, things[i], units));
    if (things.size() > most_drawn)
        section.paragraphs.push_back(fmt::format("{} of {} are drawn.", most_drawn, things.size()));
    return section;
}

// ---- readings

ReadingRow reading_row(const Taught& a, std::size_t i, Units units) {
    const FieldReading& read = a.from.readings[i];
    const LearntReading& learnt = a.study.learnt.readings[i];
    const DrawnIn in = reading_drawn_in(read.what, units);
    ReadingRow row;
    row.name = {fmt::format("{}, ", reading_short(read)), a.from.propellers[read.propeller].name};
    if (learnt.before)
        row.before = drawn_in(in, nine_in_ten_of(*learnt.before));
    if (learnt.after)
        row.after = drawn_in(in, nine_in_ten_of(*learnt.after));
    row.read = in.of(read.value);
    row.half = nine_in_ten_half * learnt.uncertainty / in.per_unit;
    row.shown = reading_text(read.what, read.value, units);
    row.doubt = doubt_label(learnt);
    return row;
}

std::string said_of(const Taught& a, std::size_t i, Units units) {
    const FieldReading& read = a.from.readings[i];
    const LearntReading& learnt = a.study.learnt.readings[i];
    std::string said = fmt::format("{} with \"{}\" read {}", reading_name(read.what),
                                   a.from.propellers[read.propeller].name,
                                   reading_text(read.what, read.value, units));
    if (learnt.before)
        said += ", foretold " + predicted_text(read.what, *learnt.before, units) + " before";
    if (learnt.after)
        said += ", " + predicted_text(read.what, *learnt.after, units) + " after";
    const std::string doubt = doubt_label(learnt);
    return doubt.empty() ? said : said + " (" + doubt + ")";
}

// Readings in one unit share an axis.
PageSection readings_section(const Taught& a, Units units) {
    PageSection section;
    section.heading = "Each reading against what was foretold";
    section.paragraphs = {
        "A dot is what was read, the line through it how sure the instrument is; the bars hold "
        "nine in ten of what the model foretells, as known before the readings (grey) and after "
        "them."};
    std::vector<std::string_view> done;
    for (const FieldReading& first : a.from.readings) {
        const std::string_view unit = reading_drawn_in(first.what, units).unit;
        if (std::find(done.begin(), done.end(), unit) != done.end())
            continue;
        done.push_back(unit);
        ReadingPicture picture;
        std::vector<std::string> said;
        for (std::size_t i = 0; i < a.from.readings.size(); ++i) {
            if (reading_drawn_in(a.from.readings[i].what, units).unit != unit)
                continue;
            picture.rows.push_back(reading_row(a, i, units));
            said.push_back(said_of(a, i, units));
        }
        picture.title = fmt::format("Readings in {}", unit);
        picture.alternative = fmt::format("{}", fmt::join(said, "; "));
        picture.unit = unit;
        section.pictures.push_back(picture_of(picture));
    }
    return section;
}

// ---- the next one

PageSection next_section(const Taught& a, Units units) {
    PageSection section;
    section.heading = "Which reading next?";
    section.paragraphs = {worth_explained(a.from, a.study, units)};
    BarPicture picture;
    std::vector<std::string> said;
    for (std::size_t i = 0; i < std::min(most_drawn, a.study.worth.size()); ++i) {
        const NextReading& next = a.study.worth[i];
        if (i > 0 && narrower_percent(next) == 0)
            break;
        const std::string& name = a.from.propellers[next.propeller].name;
        const std::string label = worth_label(a.study, next, units);
        picture.rows.push_back({{fmt::format("{}, ", reading_name(next.what)), name},
                                static_cast<double>(narrower_percent(next)),
                                label});
        said.push_back(fmt::format("{} with \"{}\" {}", reading_name(next.what), name, label));
    }
    picture.title = "One reading more, the one that helps most first";
    picture.alternative = fmt::format("{}", fmt::join(said, "; "));
    section.pictures.push_back(picture_of(picture));
    return section;
}

PageSection figures_of(const Taught& a, Units units) {
    PageSection section;
    section.heading = "The figures";
    section.paragraphs = {reading_legend(a)};
    section.tables.push_back(reading_sheet(a, units).page("Each reading", reading_picks(a), units));
    if (!a.study.brake.empty()) {
        section.tables.push_back(brake_sheet(a, units).page(
            "The blades as brakes: torque at the crank, by each speed read",
            {"propeller", "what", "engine_rpm", "torque_nm", "figures_nm"}, units));
    }
    if (!a.study.worth.empty() && anything_learnt(a.study)) {
        section.tables.push_back(
            worth_sheet(a, units).page("Each reading that could be taken", worth_picks(), units));
    }
    return section;
}

}  // namespace

Page fit_page(const Taught& a, Units units) {
    Page page;
    page.names = names_of(a.from);
    page.title = a.from.title.empty() ? "What the readings taught" : a.from.title;
    page.subtitle = fmt::format("{} {}", a.from.readings.size(),
                                a.from.readings.size() == 1 ? "reading" : "readings");
    page.unusual = a.unusual;
    // What was narrowed and what to read next; all else stands below.
    if (!a.learnt.empty())
        page.lead.push_back(learning_sentences(a.from, a.study, units, Marks::kept).front());
    if (!a.open.empty())
        page.lead.push_back(open_sentences(a.from, a.study, units, Marks::kept).back());
    if (!anything_learnt(a.study))
        page.lead = {warned("Nothing was learnt from these readings") + "; each says why."};
    if (!a.study.things.empty() && anything_learnt(a.study))
        page.sections.push_back(taught_section(a, units));
    page.sections.push_back(readings_section(a, units));
    if (!a.study.worth.empty() && anything_learnt(a.study))
        page.sections.push_back(next_section(a, units));
    page.sections.push_back(figures_of(a, units));
    page.notes = a.notes;
    page.cautions = caution_text();
    return page;
}

}  // namespace loadline::cli
