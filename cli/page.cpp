#include "cli/page.hpp"

#include "cli/command.hpp"
#include "cli/file.hpp"

#include <fmt/format.h>
#include <algorithm>
#include <map>

namespace loadline::cli {
namespace {

#include "page_parts.inc"

// Each @name@ of the template replaced once, in one pass: what is put in is never looked at again.
std::string filled(std::string_view form, const std::map<std::string_view, std::string_view>& by) {
    std::string out;
    while (!form.empty()) {
        const std::size_t from = form.find('@');
        const std::size_t to = from == std::string_view::npos ? from : form.find('@', from + 1);
        if (to == std::string_view::npos) {
            break;
        }
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

// A name of a case among words of the page: whichever way it is written, it keeps to itself.
std::string isolated(std::string_view text) {
    return "<bdi>" + escaped(text) + "</bdi>";
}

std::string paragraphs(const std::vector<std::string>& lines) {
    std::string out;
    for (const std::string& line : lines) {
        out += "<p>" + isolated(line) + "</p>\n";
    }
    return out;
}

// The answer, its first words standing out.
std::string lead_of(const std::vector<std::string>& lines) {
    std::string out;
    for (const std::string& line : lines) {
        std::size_t end = line.size();
        for (const char* stop : {"; ", ". ", "? "}) {
            end = std::min(end, line.find(stop) == std::string::npos ? end : line.find(stop) + 1);
        }
        out += "<p><bdi><strong>" + escaped(std::string_view(line).substr(0, end)) + "</strong>" +
               escaped(std::string_view(line).substr(end)) + "</bdi></p>\n";
    }
    return out;
}

std::string list_of(const std::vector<std::string>& lines) {
    if (lines.empty()) {
        return {};
    }
    std::string out = "<ul>\n";
    for (const std::string& line : lines) {
        out += "<li>" + isolated(line) + "</li>\n";
    }
    return out + "</ul>\n";
}

std::string table_of(const PageTable& table) {
    // Wide tables scroll by themselves; so that keys can do it, they take the focus.
    std::string out = "<div class=\"scroll\" tabindex=\"0\" role=\"group\" aria-label=\"" +
                      escaped(table.caption.empty() ? "table" : table.caption) + "\"><table>\n";
    if (!table.caption.empty()) {
        out += "<caption>" + isolated(table.caption) + "</caption>\n";
    }
    out += "<thead><tr>";
    for (const std::string& heading : table.headings) {
        out += "<th scope=\"col\">" + isolated(heading) + "</th>";
    }
    out += "</tr></thead>\n<tbody>\n";
    for (const auto& row : table.rows) {
        out += "<tr>";
        for (std::size_t i = 0; i < row.size(); ++i) {
            out += i == 0 ? "<th scope=\"row\">" + isolated(row[i]) + "</th>"
                          : "<td>" + escaped(row[i]) + "</td>";
        }
        out += "</tr>\n";
    }
    return out + "</tbody></table></div>\n";
}

}  // namespace

std::string escaped(std::string_view text) {
    // Through the JSON library's own replacement of bytes that are not UTF-8.
    const std::string sound =
        nlohmann::json::parse(nlohmann::json(std::string(text))
                                  .dump(-1, ' ', false, nlohmann::json::error_handler_t::replace))
            .get<std::string>();
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

std::string script_safe(const nlohmann::ordered_json& json) {
    const std::string text =
        json.dump(-1, ' ', true, nlohmann::ordered_json::error_handler_t::replace);
    std::string out;
    out.reserve(text.size());
    for (const char c : text) {
        // Only inside a JSON string can these stand.
        if (c == '<' || c == '>' || c == '&') {
            out += fmt::format("\\u{:04x}", static_cast<unsigned>(c));
        } else {
            out += c;
        }
    }
    return out;
}

std::string render(const Page& page) {
    std::string body;
    nlohmann::ordered_json charts = nlohmann::ordered_json::array();
    body += "<h1>" + isolated(page.title) + "</h1>\n";
    if (!page.lead.empty()) {
        body += "<div class=\"lead\">\n" + lead_of(page.lead) + "</div>\n";
    }
    if (!page.subtitle.empty()) {
        body += "<p class=\"quiet\">" + isolated(page.subtitle) + "</p>\n";
    }
    for (const PageSection& section : page.sections) {
        body += "<section>\n<h2>" + isolated(section.heading) + "</h2>\n" +
                paragraphs(section.paragraphs) + list_of(section.list) + section.markup;
        if (!section.charts.empty()) {
            body += section.side_by_side ? "<div class=\"small\">\n" : "";
            for (const PageChart& chart : section.charts) {
                const std::string id = fmt::format("chart-{}", charts.size() + 1);
                nlohmann::ordered_json data = chart.data;
                data["id"] = id;
                std::string style;
                if (data.value("kind", "") == "ranges") {
                    style = fmt::format(" style=\"height:{}rem\"",
                                        4.5 + 2.2 * static_cast<double>(data["rows"].size()));
                }
                charts.push_back(std::move(data));
                body += fmt::format(
                    "<figure><figcaption>{}</figcaption><div class=\"plot{}\"{}><canvas id=\"{}\" "
                    "role=\"img\" aria-label=\"{}\">{}</canvas></div></figure>\n",
                    isolated(chart.title), chart.low ? " low" : "", style, id,
                    escaped(chart.alternative), escaped(chart.alternative));
            }
            body += section.side_by_side ? "</div>\n" : "";
        }
        for (const PageTable& table : section.tables) {
            body += table_of(table);
        }
        body += "</section>\n";
    }
    if (!page.notes.empty()) {
        body += "<section>\n<h2>About the case</h2>\n" + list_of(page.notes) + "</section>\n";
    }
    if (!page.cautions.empty()) {
        body += "<div class=\"caution\"><p>" + escaped(page.cautions) + "</p></div>\n";
    }
    nlohmann::ordered_json data = page.data;
    data["charts"] = std::move(charts);
    const std::string title = escaped(page.title);
    const std::string block = script_safe(data);
    const std::string script =
        std::string(charts_js) + (page.lesson ? std::string(lesson_js) : std::string());
    return filled(page_html, {{"title", title},
                              {"style", page_css},
                              {"body", body},
                              {"data", block},
                              {"library", chart_library},
                              {"script", script}});
}

void write_page(const std::string& file, const Page& page) {
    if (file.empty()) {
        throw UsageError("--page: the file name is empty", "name a file, such as answer.html");
    }
    check_writable(file, "such as answer.html", true);
    write_file(file, render(page), true);
}

}  // namespace loadline::cli
