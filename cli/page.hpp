#pragma once
/// One self-contained page: the answer first, then pictures and tables, readable without scripts.

#include "cli/file.hpp"
#include "cli/json.hpp"

#include <cstddef>
#include <map>
#include <string>
#include <string_view>
#include <vector>

namespace loadline::cli {

/// A table; the first cell of each row is its heading.
struct PageTable {
    std::string caption;
    std::vector<std::string> headings;
    std::vector<std::vector<std::string>> rows;
};

/// A picture drawn from `data` by cli/page/charts.js, which says what each kind takes:
/// "lines" (x, y, series of points), "bars".
struct PageChart {
    std::string title;
    std::string alternative;  ///< what a reader who does not see it should know
    Json data;
    bool low = false;  ///< half the height
};

/// A picture in SVG that needs no script; cli/picture.hpp makes them.
struct PagePicture {
    std::string title;
    std::string alternative;  ///< what a reader who does not see it should know
    double height = 0.0;      ///< px, whatever its width
    std::string drawing;      ///< of our own making, not of a case; put in as it is
    std::string kind = {};    ///< a class more
    std::string box = {};     ///< of one that grows as it is wide: its viewBox, and no height in px
};

/// A table whose rows open the words on them: no script is needed, and paper has them open. With
/// one (cli/page/rows.js) its headings sort it: by the number in a cell's data-value, the better
/// end first ("more" or "less" in the heading's data-better); by the first heading as it was
/// ranked. All markup is cells of our own making, not of a case, and put in as it is; a row's first
/// cell has the element "details" that opens it.
struct PageRow {
    std::string markup;
    std::vector<std::string> paragraphs;
};
struct PageRows {
    std::size_t columns = 0;
    std::string head, first;  ///< headings, and a row above all others that opens nothing
    std::vector<PageRow> rows;
};

/// A part of the page under its heading, in this order.
struct PageSection {
    std::string heading;
    std::vector<std::string> paragraphs;
    std::vector<std::string> list;
    std::vector<PageChart> charts;
    bool side_by_side = false;  ///< the charts, where the screen is wide enough
    std::vector<PagePicture> pictures;
    std::vector<PageTable> tables;
    std::string markup;  ///< of our own making, not of a case; put in as it is
    PageRows table = {};
};

struct Page {
    std::string title;
    /// Names and titles of the case that stand among the words below: each keeps its own direction
    /// of writing.
    std::vector<std::string> names;
    std::string subtitle;
    std::vector<std::string> unusual;  ///< asked before the answer
    std::vector<std::string> lead;     ///< the answer, with its marks (words/emphasis.hpp)
    std::vector<PageSection> sections;
    std::vector<std::string> notes;
    std::string cautions;
    Json data = Json::object();  ///< beside the charts
    std::string change;          ///< address of the page that changes the case; empty without one
    bool lesson = false;         ///< with the scripts that move the lesson in `data`
};

/// The page as one HTML document. Whatever stands in texts and names shows as text.
std::string render(const Page& page);

/// Each @name@ of a form replaced once, in one pass: what is put in is never looked at again.
std::string filled(std::string_view form, const std::map<std::string_view, std::string_view>& by);

/// The form of a lesson's board: pictures, what is said of them, and sliders.
std::string_view lesson_form();

/// `text` as HTML text or attribute: markup, quotes and control characters are taken out of force,
/// bytes that are not UTF-8 replaced.
std::string escaped(std::string_view text);

/// JSON fit to stand in a script element: no "<", so neither "</script>" nor "<!--" can end it.
std::string script_safe(const Json& json);

/// Renders and writes it, replacing an earlier page; `question` is the command that was asked.
/// Where the one page lies beside it, the page leads there with its case, the first of the inputs.
/// Errors: UsageError as check_writable and write_file.
void write_page(const std::string& file, Page page, std::string_view question,
                const Replacing& replacing);

}  // namespace loadline::cli
