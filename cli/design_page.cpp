// The page of a design: the blade to scale, what it does, and the trade-off.

#include "cli/design.hpp"
#include "cli/output.hpp"
#include "cli/planform.hpp"
#include "loadline/words/design_words.hpp"

#include <fmt/format.h>
#include <deque>

namespace loadline::cli {
namespace {

// The blade and the others laid over each other.
PagePicture design_picture(const Designed& a, std::deque<Blade>& blades) {
    CagePicture picture;
    picture.title = "The blade, and the others of the same wish";
    const auto add = [&](const DesignedBlade& b) {
        blades.emplace_back(b.propeller.description);
        picture.propellers.push_back(
            {&blades.back(),
             {Ink::series, picture.propellers.size()},
             {"", b.propeller.name},
             fmt::format("{:.1f} cm", 100.0 * b.propeller.description.diameter)});
    };
    add(*a.design.blade);
    for (const DesignedBlade& other : a.design.others)
        add(other);
    picture.alternative = fmt::format("{} and {} others of the same wish, to scale",
                                      a.design.blade->propeller.name, a.design.others.size());
    return picture_of(picture);
}

}  // namespace

Page design_page(const Designed& a) {
    Page page;
    page.names = names_of(a.from);
    page.names.push_back(a.design.blade->propeller.name);
    for (const DesignedBlade& other : a.design.others)
        page.names.push_back(other.propeller.name);
    page.title = a.from.title.empty() ? "A blade drawn" : a.from.title;
    page.subtitle = a.design.blade->propeller.name;
    page.lead = a.lead;
    std::deque<Blade> blades;
    PageSection drawn;
    drawn.heading = "The blade";
    drawn.pictures.push_back(design_picture(a, blades));
    drawn.tables.push_back(design_sheet(*a.design.blade).page("Each station", design_picks()));
    page.sections.push_back(std::move(drawn));
    if (!a.design.others.empty()) {
        PageSection trade;
        trade.heading = "What else the same wish could be";
        trade.list = a.trade;
        trade.tables.push_back(
            trade_sheet(a.design).page("The blade asked for, and others", trade_picks(a.design)));
        page.sections.push_back(std::move(trade));
    }
    if (!a.ranges.empty())
        page.sections.push_back({"How sure", {}, a.ranges, {}, false, {}, {}, {}, {}});
    page.sections.push_back(
        {"Not known to this drawing", {}, a.unknown, {}, false, {}, {}, {}, {}});
    PageSection paste;
    paste.heading = "To paste into a case";
    paste.markup = "<pre>" + escaped(a.propeller) + "</pre>";
    page.sections.push_back(std::move(paste));
    page.notes = a.notes;
    page.cautions = caution_text();
    return page;
}

}  // namespace loadline::cli
