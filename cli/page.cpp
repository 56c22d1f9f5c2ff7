#include "cli/page.hpp"

#include "cli/command.hpp"
#include "cli/file.hpp"
#include "cli/output.hpp"
#include "cli/page_link.hpp"
#include "cli/typeset.hpp"
#include "loadline/words/emphasis.hpp"

#include <fmt/format.h>
#include <algorithm>
#include <map>

namespace loadline::cli {
namespace {

#include "page_parts.inc"

// What a policy calls a script it lets run: the hash of its text, base64 of the bytes written in
// `hex`.
std::string source_of(std::string_view hex) {
    const auto digit = [](char c) {
        return static_cast<unsigned>(c <= '9' ? c - '0' : c - 'a' + 10);
    };
    std::string bytes;
    for (std::size_t i = 0; i + 1 < hex.size(); i += 2)
        bytes += static_cast<char>(digit(hex[i]) << 4U | digit(hex[i + 1]));
    return "'sha256-" + base64(bytes, false) + "'";
}

// Words of the page with names of the case among them.
class Words {
public:
    explicit Words(const std::vector<std::string>& names) : names_(names) {
        std::erase(names_, "");
        std::stable_sort(names_.begin(), names_.end(),
                         [](const auto& a, const auto& b) { return a.size() > b.size(); });
    }

    [[nodiscard]] std::string markup(std::string_view text) const {
        return with_names(text, escaped, "<bdi>", "</bdi>");
    }
    // Where no elements can stand: the characters that isolate (Unicode annex 9).
    [[nodiscard]] std::string attribute(std::string_view text) const {
        return escaped(plain(text));
    }
    [[nodiscard]] std::string plain(std::string_view text) const {
        return with_names(
            text, [](std::string_view part) { return std::string(part); }, "\u2068", "\u2069");
    }
    // Every text of a chart.
    void isolate_in(Json& data) const {
        data.for_each_text([&](const std::string& text) { return plain(text); });
    }

private:
    template <class Part>
    std::string with_names(std::string_view text, Part part, std::string_view open,
                           std::string_view close) const {
        std::string out;
        while (!text.empty()) {
            std::size_t first = text.size();
            const std::string* name = nullptr;
            for (const std::string& one : names_) {
                if (const std::size_t at = text.find(one); at < first) {
                    first = at;
                    name = &one;
                }
            }
            out += part(typeset(text.substr(0, first)));
            if (name == nullptr)
                break;
            // Names in plain letters cannot turn the words around them.
            const bool turns =
                std::any_of(name->begin(), name->end(), [](char c) { return (c & 0x80) != 0; });
            out += turns ? open : "";
            out += part(*name);
            out += turns ? close : "";
            text.remove_prefix(first + name->size());
        }
        return out;
    }

    std::vector<std::string> names_;
};

// Text that may be of a case, by itself: whichever way it is written, it keeps to itself.
std::string isolated(const Words& words, std::string_view text) {
    return "<bdi>" + words.markup(text) + "</bdi>";
}

std::string paragraphs(const Words& words, const std::vector<std::string>& lines) {
    std::string out;
    for (const std::string& line : lines)
        out += "<p>" + words.markup(line) + "</p>\n";
    return out;
}

// A sentence with what is marked in it standing out.
std::string marked(const Words& words, std::string_view line) {
    constexpr char marks[] = {strong_mark, warned_mark, '\0'};
    std::string out;
    while (!line.empty()) {
        const std::size_t from = line.find_first_of(marks);
        out += words.markup(line.substr(0, from));
        if (from == std::string_view::npos)
            break;
        const std::size_t to = std::min(line.find(end_mark, from), line.size());
        out += fmt::format("<strong{}>{}</strong>",
                           line[from] == warned_mark ? " class=\"warned\"" : "",
                           words.markup(line.substr(from + 1, to - from - 1)));
        line.remove_prefix(std::min(to + 1, line.size()));
    }
    return out;
}

// The answer; where nothing in it is marked, its first sentence stands out.
std::string lead_of(const Words& words, std::vector<std::string> lines) {
    const bool any = std::any_of(lines.begin(), lines.end(), [](const std::string& line) {
        return line.find(end_mark) != std::string::npos;
    });
    if (!any && !lines.empty()) {
        std::string& line = lines.front();
        std::size_t end = line.size();
        for (const char* stop : {". ", "? "})
            if (const std::size_t at = line.find(stop); at != std::string::npos)
                end = std::min(end, at + 1);
        line = strong(line.substr(0, end)) + line.substr(end);
    }
    std::string out;
    for (const std::string& line : lines)
        out += "<p>" + marked(words, line) + "</p>\n";
    return out;
}

std::string list_of(const Words& words, const std::vector<std::string>& lines) {
    if (lines.empty())
        return {};
    std::string out = "<ul>\n";
    for (const std::string& line : lines)
        out += "<li>" + words.markup(line) + "</li>\n";
    return out + "</ul>\n";
}

// A heading; one with a word that may have to be broken says so.
std::string heading_of(const Words& words, const char* scope, const std::string& text) {
    constexpr std::size_t long_word = 20;
    std::size_t run = 0, longest = 0;
    for (const char c : text) {
        run = c == ' ' || c == '-' ? 0 : run + 1;
        longest = std::max(longest, run);
    }
    return fmt::format("<th scope=\"{}\"{}>{}</th>", scope,
                       longest > long_word ? " class=\"long\"" : "", isolated(words, text));
}

std::string table_of(const Words& words, const PageTable& table) {
    // Wide tables scroll by themselves. Browsers let keys reach what scrolls, and that alone.
    constexpr std::size_t broad = 9;  // more columns need smaller letters on paper
    std::string out = fmt::format("<div class=\"scroll\"><table{}>\n",
                                  table.headings.size() > broad ? " class=\"broad\"" : "");
    if (!table.caption.empty())
        out += "<caption>" + words.markup(table.caption) + "</caption>\n";
    out += "<thead><tr>";
    for (const std::string& heading : table.headings)
        out += heading_of(words, "col", heading);
    out += "</tr></thead>\n<tbody>\n";
    for (const auto& row : table.rows) {
        out += "<tr>";
        for (std::size_t i = 0; i < row.size(); ++i)
            out += i == 0 ? heading_of(words, "row", row[i])
                          : "<td>" + escaped(typeset(row[i])) + "</td>";
        out += "</tr>\n";
    }
    return out + "</tbody></table></div>\n";
}

// The charts of a section; what each draws goes to `drawn`.
std::string charts_of(const Words& words, const PageSection& section, Json& drawn) {
    if (section.charts.empty())
        return {};
    std::string out = section.side_by_side ? "<div class=\"small\">\n" : "";
    for (const PageChart& chart : section.charts) {
        const std::string id = fmt::format("chart-{}", drawn.size() + 1);
        Json data = chart.data;
        data["id"] = id;
        words.isolate_in(data);
        drawn.push_back(std::move(data));
        out += fmt::format(
            "<figure class=\"scripted\"><figcaption>{}</figcaption><div class=\"plot{}\"><canvas "
            "id=\"{}\" role=\"img\" aria-label=\"{}\">{}</canvas></div></figure>\n",
            words.markup(chart.title), chart.low ? " low" : "", id,
            words.attribute(chart.alternative), words.attribute(chart.alternative));
    }
    return out + (section.side_by_side ? "</div>\n" : "");
}

// The pictures of a section, two beside each other where the screen is wide enough.
std::string pictures_of(const Words& words, const PageSection& section) {
    if (section.pictures.empty())
        return {};
    std::string out = section.pictures.size() > 1 ? "<div class=\"beside\">\n" : "";
    for (const PagePicture& picture : section.pictures) {
        out += fmt::format(
            "<figure><figcaption>{}</figcaption><svg class=\"drawn{}{}\" role=\"img\" "
            "aria-label=\"{}\" {}>\n{}</svg></figure>\n",
            words.markup(picture.title), picture.kind.empty() ? "" : " ", picture.kind,
            words.attribute(picture.alternative),
            picture.box.empty() ? fmt::format("style=\"height:{:.0f}px\"", picture.height)
                                : fmt::format("viewBox=\"{}\"", picture.box),
            picture.drawing);
    }
    return out + (section.pictures.size() > 1 ? "</div>\n" : "");
}

// Its parts are named as well as written: where they are laid out otherwise they stay a table.
std::string rows_of(const Words& words, const PageRows& table) {
    if (table.rows.empty())
        return {};
    std::string out = fmt::format(
        "<table class=\"matrix\" role=\"table\">\n<thead role=\"rowgroup\"><tr role=\"row\">{}"
        "</tr></thead>\n<tbody role=\"rowgroup\"><tr role=\"row\" class=\"now\">{}</tr></tbody>\n",
        table.head, table.first);
    for (const PageRow& row : table.rows) {
        out += fmt::format(
            "<tbody role=\"rowgroup\" class=\"one\"><tr role=\"row\" class=\"row\">{}</tr>\n<tr "
            "role=\"row\" class=\"said\"><td role=\"cell\" colspan=\"{}\">{}</td></tr></tbody>\n",
            row.markup, table.columns, paragraphs(words, row.paragraphs));
    }
    return out + "</table>\n";
}

// The scripts, and what lets them run; a page without charts, a lesson and rows to sort needs none.
struct Scripts {
    std::string elements, hashes;

    void add(std::string_view text, std::string_view sha256) {
        elements += fmt::format("<script>{}</script>\n", text);
        hashes += (hashes.empty() ? "" : " ") + source_of(sha256);
    }
};

Scripts scripts_of(const Page& page, const Json& data) {
    const bool charts = !data.find("charts")->empty();
    Scripts scripts;
    if (charts || page.lesson) {
        scripts.elements = fmt::format(
            "<script type=\"application/json\" id=\"data\">{}</script>\n", script_safe(data));
    }
    if (charts) {
        scripts.add(chart_library, chart_library_sha256);
        scripts.add(charts_js, charts_js_sha256);
    }
    if (page.lesson) {
        scripts.add(lesson_model_js, lesson_model_js_sha256);
        scripts.add(lesson_words_js, lesson_words_js_sha256);
        scripts.add(lesson_lines_js, lesson_lines_js_sha256);
        scripts.add(lesson_blade_js, lesson_blade_js_sha256);
        scripts.add(lesson_js, lesson_js_sha256);
    }
    if (std::any_of(page.sections.begin(), page.sections.end(),
                    [](const PageSection& section) { return section.table.rows.size() > 1; }))
        scripts.add(rows_js, rows_js_sha256);
    if (scripts.hashes.empty())
        scripts.hashes = "'none'";
    return scripts;
}

}  // namespace

std::string filled(std::string_view form, const std::map<std::string_view, std::string_view>& by) {
    std::string out;
    while (!form.empty()) {
        const std::size_t from = form.find('@');
        const std::size_t to = from == std::string_view::npos ? from : form.find('@', from + 1);
        if (to == std::string_view::npos)
            break;
        out += form.substr(0, from);
        const auto found = by.find(form.substr(from + 1, to - from - 1));
        if (found == by.end()) {
            out += '@';
            form.remove_prefix(from + 1);
            continue;
        }
        out += found->second;
        form.remove_prefix(to + 1);
    }
    out += form;
    return out;
}

std::string_view lesson_form() {
    return lesson_html;
}

std::string escaped(std::string_view text) {
    const std::string sound = sound_text(text);
    std::string out;
    out.reserve(sound.size());
    for (const char c : sound) {
        switch (c) {
            case '&':
                out += "&amp;";
                break;
            case '<':
                out += "&lt;";
                break;
            case '>':
                out += "&gt;";
                break;
            case '"':
                out += "&quot;";
                break;
            case '\'':
                out += "&#39;";
                break;
            default:
                out += static_cast<unsigned char>(c) < 0x20 && c != '\n' ? ' ' : c;
                break;
        }
    }
    return out;
}

std::string script_safe(const Json& json) {
    const std::string text = json.line();
    std::string out;
    out.reserve(text.size());
    for (const char c : text) {
        // Only inside a JSON string can these stand.
        if (c == '<' || c == '>' || c == '&')
            out += fmt::format("\\u{:04x}", static_cast<unsigned>(c));
        else
            out += c;
    }
    return out;
}

std::string render(const Page& page) {
    const Words words(page.names);
    std::string body;
    Json charts = Json::array();
    body += "<h1><bdi>" + escaped(page.title) + "</bdi></h1>\n";
    if (!page.unusual.empty())
        body += "<div class=\"caution\"><p>" + escaped(asked_first_heading) + "</p>\n" +
                list_of(words, page.unusual) + "</div>\n";
    if (!page.lead.empty())
        body += "<div class=\"lead\">\n" + lead_of(words, page.lead) + "</div>\n";
    if (!page.subtitle.empty())
        body += "<p class=\"quiet\">" + words.markup(page.subtitle) + "</p>\n";
    if (!page.change.empty())
        body += "<p class=\"told\"><a href=\"" + escaped(page.change) + "\">Change this</a></p>\n";
    for (const PageSection& section : page.sections) {
        body += "<section>\n<h2>" + words.markup(section.heading) + "</h2>\n" +
                paragraphs(words, section.paragraphs) + list_of(words, section.list) +
                section.markup + rows_of(words, section.table);
        body += charts_of(words, section, charts) + pictures_of(words, section);
        for (const PageTable& table : section.tables)
            body += table_of(words, table);
        body += "</section>\n";
    }
    if (!page.notes.empty()) {
        body +=
            "<section>\n<h2>About the case</h2>\n" + list_of(words, page.notes) + "</section>\n";
    }
    if (!page.cautions.empty())
        body += "<div class=\"caution\"><p>" + escaped(typeset(page.cautions)) + "</p></div>\n";
    Json data = page.data;
    data["charts"] = std::move(charts);
    const std::string title = escaped(page.title);
    const Scripts scripts = scripts_of(page, data);
    const std::string style = std::string(page_css) + std::string(page.lesson ? lesson_css : "");
    return filled(page_html, {{"head", head_html},
                              {"title", title},
                              {"palette", palette_css},
                              {"style", style},
                              {"body", body},
                              {"hashes", scripts.hashes},
                              {"scripts", scripts.elements}});
}

void write_page(const std::string& file, Page page, std::string_view question,
                const Replacing& replacing) {
    if (file.empty())
        throw UsageError("--page: the file name is empty", "name a file, such as answer.html");
    Replacing pages = replacing;
    pages.own = "<meta name=\"generator\" content=\"loadline\">";
    pages.ending = ".html";
    check_writable(file, "such as answer.html", pages);
    if (!replacing.inputs.empty())
        page.change = link_to_change(file, replacing.inputs.front(), question);
    write_file(file, render(page), true);
}

}  // namespace loadline::cli
