// Section files: points under lines of provenance, and outlines beside them.

#include "loadline/case/section_file.hpp"

#include "loadline/case/detail/number_table.hpp"
#include "loadline/case/limits.hpp"
#include "loadline/case/text.hpp"
#include "loadline/number/constants.hpp"
#include "loadline/quantity/quantity.hpp"

#include <fmt/format.h>
#include <map>
#include <set>
#include <system_error>

namespace loadline {
namespace {

// The value behind "name:" in a remark, if this is that remark.
std::optional<std::string_view> stated(std::string_view remark, std::string_view name) {
    if (!remark.starts_with(name))
        return std::nullopt;
    remark.remove_prefix(name.size());
    return remark.starts_with(':') ? std::optional(trimmed(remark.substr(1))) : std::nullopt;
}

void read_remarks(NumberTable& table, SectionData& data) {
    std::optional<double> narrow_chord, narrow_camber, broad_chord, broad_camber;
    int width_line = 1;
    for (const NumberTable::Remark& remark : table.remarks) {
        const auto take = [&](std::string_view name, Dimension dimension, double lowest,
                              double highest, std::string_view range, std::optional<double>& into) {
            const auto text = stated(remark.text, name);
            if (!text)
                return;
            try {
                const double value = parse_quantity(*text, dimension);
                if (value < lowest || value > highest)
                    table.fault(
                        remark.line, 1,
                        fmt::format("{} is {}, which is out of range", name, quotable(*text)),
                        fmt::format("write {}", range));
                into = value;
            } catch (const QuantityError& error) {
                table.fault(remark.line, 1, fmt::format("{}: {}", name, error.what()),
                            error.remedy);
            }
        };
        take("thickness", Dimension::fraction, 0.005, 1.0, "0.005 to 1, over the chord",
             data.thickness);
        take("camber", Dimension::fraction, 0.0, 0.15, "0 to 0.15, over the chord", data.camber);
        take("lower face angle", Dimension::angle, -30.0 * degree, 30.0 * degree, "-30 to 30 deg",
             data.lower_face_angle);
        const std::string_view width = "0.01 to 0.5, the chord at 0.75 R over the radius";
        const std::string_view camber = "0 to 0.15, over the chord";
        take("narrow blade chord", Dimension::fraction, 0.01, 0.5, width, narrow_chord);
        take("narrow blade camber", Dimension::fraction, 0.0, 0.15, camber, narrow_camber);
        take("broad blade chord", Dimension::fraction, 0.01, 0.5, width, broad_chord);
        take("broad blade camber", Dimension::fraction, 0.0, 0.15, camber, broad_camber);
        if (remark.text.starts_with("narrow blade") || remark.text.starts_with("broad blade"))
            width_line = remark.line;
        data.provenance.push_back(remark.text);
    }
    if (narrow_chord && narrow_camber && broad_chord && broad_camber)
        data.camber_by_width = {*narrow_chord, *narrow_camber, *broad_chord, *broad_camber};
    const bool any = narrow_chord || narrow_camber || broad_chord || broad_camber;
    if (any && table.sound() &&
        (!data.camber_by_width || !data.camber || !(broad_chord > narrow_chord))) {
        table.fault(width_line, 1, "how camber goes with the blade's width is not fully told",
                    "state camber, narrow blade chord, narrow blade camber, broad blade chord "
                    "(greater than the narrow one) and broad blade camber, or none of the four");
    }
}

// "clark-y" for .../clark-y/section.csv, "tip.csv" for .../tip.csv.
std::string section_name(const std::filesystem::path& file) {
    const std::string name = file.filename().string();
    const std::string folder = file.parent_path().filename().string();
    return name == "section.csv" && !folder.empty() ? folder : name;
}

// The outline that belongs to a section file: outline.csv beside section.csv, else tip.outline.csv
// beside tip.csv.
std::filesystem::path outline_beside(const std::filesystem::path& file) {
    if (file.filename() == "section.csv")
        return file.parent_path() / "outline.csv";
    std::filesystem::path beside = file;
    return beside.replace_extension(".outline.csv");
}

}  // namespace

std::vector<OutlinePoint> parse_outline(const std::string& text,
                                        const std::filesystem::path& file) {
    NumberTable table(file, {"x", "y"});
    table.read(checked_text(text, file, "outline file", most::table_size));
    std::vector<OutlinePoint> outline;
    for (const NumberTable::Row& row : table.rows) {
        const double x = *row.values[0];
        const double y = *row.values[1];
        if (x < -0.5 || x > 1.5 || y < -1.0 || y > 1.0) {
            table.fault(row.line, 1, "this point lies far off a chord of 1",
                        "write x and y as shares of the chord, from leading edge 0 to trailing "
                        "edge 1");
        }
        outline.push_back({x, y});
    }
    if (table.sound()) {
        if (auto fault = check_outline(outline))
            table.fault(1, 1, std::move(fault->what), std::move(fault->remedy));
    }
    table.throw_if_any();
    return outline;
}

SectionData parse_section(const std::string& text, const std::filesystem::path& file) {
    NumberTable table(file, {"reynolds", "alpha_deg", "cl", "cd"});
    table.may_be_empty = {"cd"};
    table.read(checked_text(text, file, "section file", most::table_size));
    SectionData data;
    data.name = section_name(file);
    read_remarks(table, data);
    std::vector<int> lines;
    std::set<double> different;
    for (const NumberTable::Row& row : table.rows) {
        data.points.push_back(
            {*row.values[0], *row.values[1] * degree, *row.values[2], row.values[3]});
        lines.push_back(row.line);
        if (different.insert(*row.values[0]).second &&
            different.size() == most::reynolds_numbers + 1)
            table.fault(row.line, 1,
                        fmt::format("more than {} Reynolds numbers", most::reynolds_numbers),
                        "give the few that were measured, each with all its angles");
    }
    // What the rows say together is judged once all of them read: a lost one would mislead.
    table.throw_if_any();
    for (const SectionFault& found : check_section(data)) {
        const int line = found.point < 0 ? 1 : lines[static_cast<std::size_t>(found.point)];
        table.fault(line, 1, found.what, found.remedy);
    }
    table.throw_if_any();
    return data;
}

SectionData read_section(const std::filesystem::path& file) {
    SectionData data = parse_section(read_text(file, "section file", most::table_size), file);
    std::error_code error;
    const std::filesystem::path outline = outline_beside(file);
    // Links followed: an outline of another folder is not this section's.
    const bool beside = std::filesystem::is_regular_file(outline, error) &&
                        std::filesystem::canonical(outline, error).parent_path() ==
                            std::filesystem::canonical(file, error).parent_path();
    if (beside && !error)
        data.outline = parse_outline(read_text(outline, "outline file", most::table_size), outline);
    return data;
}

std::vector<SectionData> read_sections(const SectionFolders& folders) {
    std::map<std::string, std::filesystem::path> files;  // the first folder that has a name wins
    for (const std::filesystem::path& folder : folders) {
        std::error_code error;
        std::filesystem::directory_iterator at(folder, error);
        for (; !error && at != std::filesystem::directory_iterator(); at.increment(error)) {
            const std::filesystem::path file = at->path() / "section.csv";
            std::error_code ignored;
            if (std::filesystem::is_regular_file(file, ignored))
                files.emplace(at->path().filename().string(), file);
        }
    }
    std::vector<SectionData> sections;
    for (const auto& [name, file] : files)
        sections.push_back(read_section(file));
    return sections;
}

}  // namespace loadline
