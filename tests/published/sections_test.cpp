// Sections against measurements they were not built from: each Reynolds number left out in turn and
// predicted from the others, and a second model of Clark Y from another tunnel.

#include "measured.hpp"

#include <doctest/doctest.h>
#include <fmt/core.h>
#include <array>

using namespace loadline;
using namespace loadline::test;

namespace {

struct Off {
    double cl = 0.0, cd = 0.0;  // mean absolute: lift, and drag in per cent below the stall
    int lifts = 0, drags = 0;
};

Off compare(const Section& section, const std::vector<SectionPoint>& points) {
    Off off;
    for (const SectionPoint& p : points) {
        const SectionSlice slice = section.at(p.reynolds, 0.0);
        const Coefficients c = slice(p.alpha);
        if (p.alpha > slice.stall() || p.alpha < -5.0 * degree)
            continue;  // past the stall two tunnels do not agree either
        off.cl += std::abs(c.cl - p.cl);
        ++off.lifts;
        if (p.cd) {
            off.cd += 100.0 * std::abs(c.cd / *p.cd - 1.0);
            ++off.drags;
        }
    }
    off.cl /= std::max(off.lifts, 1);
    off.cd /= std::max(off.drags, 1);
    return off;
}

}  // namespace

TEST_CASE("a Reynolds number left out is predicted from the others") {
    // Sources: UIUC LSATs volumes 1 to 3, NACA Report 824 and Riso-R-981 as each file's header
    // says.
    double lift = 0.0, drag = 0.0;
    int groups = 0, with_drag = 0;
    fmt::print("{:<12} {:>9} {:>8} {:>8}\n", "section", "Reynolds", "cl off", "cd off %");
    for (const char* name : {"clark-y", "e387", "gm15", "ma409", "naca-2414", "s822", "sd7062",
                             "fx63-137", "goe-417a", "naca-63-418"}) {
        const SectionData all = library_section(name)->data();
        std::vector<double> reynolds;
        for (const SectionPoint& p : all.points)
            if (reynolds.empty() || p.reynolds != reynolds.back())
                reynolds.push_back(p.reynolds);
        for (const double left_out : reynolds) {
            SectionData rest = all;
            rest.points.clear();
            std::vector<SectionPoint> asked;
            for (const SectionPoint& p : all.points)
                (p.reynolds == left_out ? asked : rest.points).push_back(p);
            const Off off = compare(Section(rest, 12.0, 0.0), asked);
            fmt::print(
                "{:<12} {:>9.0f} {:>8.3f} {:>8}{}\n", name, left_out, off.cl,
                off.drags > 0 ? fmt::format("{:.1f}", off.cd) : "-",
                left_out == reynolds.front() || left_out == reynolds.back() ? "  (end)" : "");
            lift += off.cl;
            drag += off.cd;
            ++groups;
            with_drag += off.drags > 0;
        }
    }
    lift /= groups;
    drag /= with_drag;
    fmt::print("{} groups: lift off by {:.3f}, drag by {:.1f} % on average\n", groups, lift, drag);
    // Recorded figures; better ones are recorded anew.
    CHECK(groups == 40);
    CHECK(lift < 0.055);
    CHECK(drag < 17.1);
}

TEST_CASE("drag towards the stall, the highest measured points left out") {
    // Of each Reynolds number with drag at high lift the points above 0.9 of the greatest lift, and
    // past it as far as 8 deg, are left out and predicted from the drag measured below them and
    // from the lift, as in a wind tunnel. Sources: as each section's file says.
    double off = 0.0, bias = 0.0;
    int points = 0;
    for (const char* name : {"sd7062", "clark-y", "fx63-137", "naca-63-415", "naca-63-418", "e387",
                             "gm15", "ma409", "s822", "naca-2414"}) {
        const SectionData all = library_section(name)->data();
        std::map<double, SectionPoint> greatest;
        for (const SectionPoint& p : all.points)
            if (SectionPoint& top = greatest[p.reynolds]; p.cl > top.cl)
                top = p;
        double own = 0.0, own_bias = 0.0;
        int count = 0;
        for (const auto& [reynolds, top] : greatest) {
            SectionData rest = all;
            std::vector<SectionPoint> asked;
            int left = 0;
            for (SectionPoint& p : rest.points) {
                if (p.reynolds != reynolds || !p.cd)
                    continue;
                if (p.alpha > 0.0 && (p.cl > 0.9 * top.cl || p.alpha > top.alpha)) {
                    if (p.alpha < top.alpha + 8.0 * degree)
                        asked.push_back(p);
                    p.cd.reset();
                } else {
                    ++left;
                }
            }
            if (asked.empty() || left < 3)
                continue;
            const Section section(rest, 12.0, 0.0);
            for (const SectionPoint& p : asked) {
                const double error = 100.0 * (section.at(reynolds, 0.0)(p.alpha).cd / *p.cd - 1.0);
                own += std::abs(error);
                own_bias += error;
                ++count;
            }
        }
        fmt::print("{:<12} {:>3} points near the stall: drag off by {:.0f} %, bias {:+.0f} %\n",
                   name, count, own / count, own_bias / count);
        off += own;
        bias += own_bias;
        points += count;
    }
    fmt::print("{} points near the stall: drag off by {:.1f} %, bias {:+.1f} %\n", points,
               off / points, bias / points);
    // Recorded figures; carried on by its last measured slope, as before, it was 31 %.
    CHECK(points == 76);
    CHECK(off / points < 17.7);
    CHECK(std::abs(bias / points) < 3.2);
}

TEST_CASE("NACA 0012 from low speed to Mach 0.6") {
    // The composite table of rotorcraft use (see the headers of the files). Its Mach 0.2 column is
    // the measured section, angles taken back to low speed; greatest lift and the drag at 10 deg of
    // the other columns are asked.
    const auto column = [](double mach) {
        std::vector<std::array<std::optional<double>, 3>> rows;
        std::ifstream in(std::filesystem::path(LOADLINE_TEST_DATA) / "published" / "sections" /
                         "naca-0012-mach" / fmt::format("mach-{:.2f}.csv", mach));
        for (std::string line; std::getline(in, line);) {
            if (line.empty() || line[0] == '#' || line[0] == 'a')
                continue;
            std::stringstream fields(line);
            auto& row = rows.emplace_back();
            std::string field;
            for (std::size_t k = 0; k < 3 && std::getline(fields, field, ','); ++k)
                if (!field.empty())
                    row[k] = std::stod(field);
        }
        REQUIRE(rows.size() > 15);
        return rows;
    };
    const auto low = column(0.2);
    std::vector<double> a, lift;
    for (const auto& row : low)
        if (row[1]) {
            a.push_back(*row[0]);
            lift.push_back(*row[1]);
        }
    const Curve cl(a, lift);
    SectionData data;
    data.name = "NACA 0012";
    data.thickness = 0.12;
    const double slow = degree / std::sqrt(1.0 - 0.2 * 0.2);
    for (const auto& row : low) {
        data.points.push_back({6e6, *row[0] * slow, cl(*row[0]), row[2]});
        if (*row[0] > 0.0)
            data.points.push_back({6e6, -*row[0] * slow, -cl(*row[0]), row[2]});
    }
    const Section section(data);
    for (const double mach : {0.3, 0.4, 0.6}) {
        const SectionSlice slice = section.at(6e6, mach);
        double greatest = 0.0, tabulated = 0.0, drag = 0.0;
        for (double x = 0.0; x < 16.0 * degree; x += 0.05 * degree)
            greatest = std::max(greatest, slice(x).cl);
        for (const auto& row : column(mach)) {
            if (*row[0] < 16.0)
                tabulated = std::max(tabulated, row[1].value_or(0.0));
            if (*row[0] == 10.0)
                drag = row[2].value();
        }
        const double at_ten = slice(10.0 * degree).cd;
        fmt::print(
            "NACA 0012 at Mach {:.1f}: greatest lift {:.3f} of {:.3f}, {:+.1f} %; drag at 10 "
            "deg {:.4f} of {:.4f}, {:+.0f} %\n",
            mach, greatest, tabulated, 100.0 * (greatest / tabulated - 1.0), at_ten, drag,
            100.0 * (at_ten / drag - 1.0));
        CHECK(std::abs(greatest / tabulated - 1.0) < 0.08);
        CHECK(std::abs(at_ten / drag - 1.0) < 0.30);
    }
}

TEST_CASE("another tunnel's Clark Y") {
    // Selig, Donovan and Fraser, SoarTech 8 (1989), Princeton; the library's file is another model
    // in another tunnel (UIUC volume 3). Their difference is the doubt of measured sections.
    const std::filesystem::path file =
        std::filesystem::path(LOADLINE_ROOT) / "airfoils" / "clark-y" / "second-model.csv";
    const SectionData second = read_section(file);
    const Off off = compare(*library_section("clark-y"), second.points);
    fmt::print("second model of Clark Y: lift off by {:.3f}, drag by {:.1f} % on average\n", off.cl,
               off.cd);
    CHECK(off.cl < 0.076);
    CHECK(off.cd < 13.0);
}

TEST_CASE("the stand-in section is what its header says it is made of") {
    // Mean of three measured sections, drag a fifth more up to 10 deg, fading to nothing at 15.
    const auto parts = {library_section("e387"), library_section("gm15"),
                        library_section("naca-6409")};
    double lift = 0.0, drag = 0.0;
    const SectionData data = library_section("unknown")->data();
    REQUIRE(data.points.size() > 100);
    for (const SectionPoint& p : data.points) {
        double cl = 0.0, cd = 0.0;
        for (const auto& part : parts) {
            const Coefficients c = part->at(p.reynolds, 0.0)(p.alpha);
            cl += c.cl / 3.0;
            cd += c.cd / 3.0;
        }
        const double u = std::clamp((p.alpha / degree - 10.0) / 5.0, 0.0, 1.0);
        cd *= 1.0 + 0.2 * (1.0 - u * u * (3.0 - 2.0 * u));
        lift = std::max(lift, std::abs(cl - p.cl));
        drag = std::max(drag, std::abs(cd - p.cd.value()));
    }
    fmt::print("stand-in against its recipe: lift within {:.1e}, drag within {:.1e}\n", lift, drag);
    CHECK(lift < 6e-5);  // four decimals in the file
    CHECK(drag < 6e-6);  // five
}
