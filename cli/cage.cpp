// Of the page of a comparison: the propellers over each other in their cage.

#include "cli/compare.hpp"
#include "cli/output.hpp"
#include "cli/planform.hpp"
#include "loadline/study/limits.hpp"
#include "loadline/words/planform_words.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>
#include <algorithm>

namespace loadline::cli {

PageSection cage_section(const Compared& a, Units units) {
    const SentenceUnits spoken = sentence_units(units);
    PageSection section;
    section.heading = cage_heading(a.from.cage_diameter.has_value());
    section.paragraphs = {std::string(cage_explained())};
    if (many(a))
        section.paragraphs.emplace_back(first_few_shown());
    CagePicture picture;
    std::vector<std::string> said;
    for (const std::size_t i : told_in_full(a)) {
        const CompareRow& row = a.comparison.rows[i];
        const Blade& blade = a.rotors[i].blade();
        const std::string place = place_of(a, i);
        const double odds = row.standing_odds.into_cage.value_or(0.0);
        const std::string fits = fit_words(row.fit.clearance, odds, blade, spoken);
        picture.propellers.push_back({&blade,
                                      {Ink::series, i},
                                      {place + " ", row.name},
                                      gap_label(row.fit.clearance, odds, blade, spoken),
                                      does_not_fit(row) || odds > told_odds});
        said.push_back(fmt::format("{} {}: {}", place, row.name, fits));
    }
    picture.cage = a.from.cage_diameter;
    if (picture.cage)
        picture.cage_words = cage_label(*picture.cage, spoken);
    picture.title = cage_title(picture.cage.has_value());
    picture.alternative = fmt::format("{}", fmt::join(said, "; "));
    section.pictures.push_back(picture_of(picture));
    return section;
}

}  // namespace loadline::cli
