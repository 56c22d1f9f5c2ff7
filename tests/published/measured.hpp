#pragma once
/// Measured propellers as the files beside this one have them, and the blades that stand for them.

#include "loadline/blade/blade.hpp"
#include "loadline/case/case.hpp"
#include "loadline/number/curve.hpp"
#include "loadline/study/bands.hpp"

#include <algorithm>
#include <cmath>
#include <filesystem>
#include <fstream>
#include <map>
#include <numbers>
#include <sstream>
#include <stdexcept>
#include <string>
#include <vector>

namespace loadline::test {

struct MeasuredPoint {
    double advance_ratio = 0.0, ct = 0.0, cp = 0.0, efficiency = 0.0;
};

struct MeasuredRun {
    double rotation = 0.0;  // rad/s; a stand-in where the report does not give it
    double zero_thrust = 0.0;
    std::vector<MeasuredPoint> points;
};

struct MeasuredStatic {
    double rotation = 0.0, ct = 0.0, cp = 0.0;
};

struct MeasuredPropeller {
    std::string name;
    double diameter = 0.0;
    int blades = 2;
    std::vector<Station> stations;  // angle as listed
    std::vector<MeasuredRun> runs;
    std::vector<MeasuredStatic> statics;
};

inline const std::filesystem::path measured_folder =
    std::filesystem::path(LOADLINE_TEST_DATA) / "published" / "propellers";

inline std::vector<std::vector<double>> csv_rows(
    const std::filesystem::path& file, std::map<std::string, std::string>* header = nullptr) {
    std::ifstream in(file);
    if (!in)
        throw std::runtime_error("cannot read " + file.string());
    std::vector<std::vector<double>> rows;
    std::string line;
    bool names = false;
    while (std::getline(in, line)) {
        if (line.empty())
            continue;
        if (line[0] == '#') {
            const auto colon = line.find(": ");
            if (header != nullptr && colon != std::string::npos)
                header->emplace(line.substr(2, colon - 2), line.substr(colon + 2));
        } else if (!names) {
            names = true;
        } else {
            std::vector<double> row;
            std::stringstream fields(line);
            std::string field;
            while (std::getline(fields, field, ','))
                row.push_back(std::stod(field));
            rows.push_back(std::move(row));
        }
    }
    return rows;
}

// Advance ratio of no thrust: between the rows where CT changes sign, else along the last two rows.
inline double zero_thrust(std::vector<MeasuredPoint> points) {
    std::sort(points.begin(), points.end(),
              [](const auto& a, const auto& b) { return a.advance_ratio < b.advance_ratio; });
    for (std::size_t i = 1; i < points.size(); ++i)
        if (points[i - 1].ct > 0.0 && points[i].ct <= 0.0)
            return points[i - 1].advance_ratio +
                   (points[i].advance_ratio - points[i - 1].advance_ratio) * points[i - 1].ct /
                       (points[i - 1].ct - points[i].ct);
    const MeasuredPoint& last = points.back();
    if (points.size() > 1) {
        const MeasuredPoint& one = points[points.size() - 2];
        if (one.ct > last.ct)
            return std::min(1.6 * last.advance_ratio,
                            last.advance_ratio + (last.advance_ratio - one.advance_ratio) *
                                                     last.ct / (one.ct - last.ct));
    }
    return last.advance_ratio;
}

inline MeasuredPropeller read_measured(const std::filesystem::path& folder) {
    MeasuredPropeller p;
    p.name = folder.filename().string();
    std::map<std::string, std::string> header;
    const auto geometry = csv_rows(folder / "geometry.csv", &header);
    p.diameter = std::stod(header.at("diameter_m"));
    p.blades = std::stoi(header.at("blades"));
    for (const auto& row : geometry)
        p.stations.push_back({0.5 * p.diameter * row[0],
                              0.5 * p.diameter * row[1],
                              row[2] * std::numbers::pi / 180.0,
                              {},
                              0.0,
                              0,
                              {}});
    for (const auto& entry : std::filesystem::directory_iterator(folder)) {
        const std::string file = entry.path().filename().string();
        if (file.rfind("run_", 0) == 0) {
            MeasuredRun run;
            // The report's speed is not in the data; of order 1000 rpm for 10 ft.
            run.rotation = (file == "run_fullscale.csv" ? 1000.0 : std::stod(file.substr(4))) *
                           std::numbers::pi / 30.0;
            for (const auto& row : csv_rows(entry.path()))
                run.points.push_back({row[0], row[1], row[2], row[3]});
            run.zero_thrust = zero_thrust(run.points);
            p.runs.push_back(std::move(run));
        } else if (file == "static.csv") {
            for (const auto& row : csv_rows(entry.path()))
                p.statics.push_back({row[0] * std::numbers::pi / 30.0, row[1], row[2]});
        }
    }
    std::sort(
        p.runs.begin(), p.runs.end(),
        [](const auto& a, const auto& b) { return a.rotation < b.rotation; });
    std::sort(p.statics.begin(), p.statics.end(),
              [](const auto& a, const auto& b) { return a.rotation < b.rotation; });
    return p;
}

inline std::vector<MeasuredPropeller> all_measured() {
    std::vector<MeasuredPropeller> all;
    for (const auto& entry : std::filesystem::directory_iterator(measured_folder))
        if (entry.is_directory())
            all.push_back(read_measured(entry.path()));
    std::sort(all.begin(), all.end(), [](const auto& a, const auto& b) { return a.name < b.name; });
    return all;
}

inline const std::vector<MeasuredPropeller>& measured() {
    static const std::vector<MeasuredPropeller> all = all_measured();
    return all;
}

inline bool starts(const MeasuredPropeller& p, const char* with) {
    return p.name.rfind(with, 0) == 0;
}

/// Bought in a shop, and measured as it was sold.
inline bool commercial(const MeasuredPropeller& p) {
    return starts(p, "model");
}

// A line of products, as the source's own names tell: the same maker and kind. Of the commercial
// ones.
inline int line_of(const MeasuredPropeller& p) {
    const int number = std::stoi(p.name.substr(5, 2));
    int line = 0;
    for (const int last : {1, 9, 14, 18, 20, 22, 24, 26, 28, 29})
        line += number > last;
    return line;
}

inline double airspeed_of(const MeasuredPropeller& p, const MeasuredRun& run,
                          double advance_ratio) {
    return advance_ratio * run.rotation / (2.0 * std::numbers::pi) * p.diameter;
}

inline std::shared_ptr<const Section> library_section(const std::string& name) {
    static std::map<std::string, std::shared_ptr<const Section>> read;
    auto& section = read[name];
    if (!section)
        section = std::make_shared<const Section>(
            read_section(std::filesystem::path(LOADLINE_ROOT) / "airfoils" / name / "section.csv"));
    return section;
}

// Blade 5868-9 of Report 640 and its prints: Clark Y, angles to the flat lower face (NACA practice,
// from memory). The thickness along the blade was not found; assumed 16 % at 0.3 R, 11.5 % at 0.5
// R, 8.5 % at 0.75 R and 7.5 % at the tip, which the zero-thrust advance ratio of the charts asks
// for.
inline BladeDescription clark_y_blade(const MeasuredPropeller& p) {
    const double at[] = {0.3, 0.5, 0.75, 1.0};
    const double thick[] = {0.16, 0.115, 0.085, 0.075};
    const Curve thickness(at, thick);
    BladeDescription d;
    d.diameter = p.diameter;
    d.blades = p.blades;
    d.sections = {library_section("clark-y")};
    d.angle_reference = AngleReference::lower_surface;
    d.stations = p.stations;
    for (Station& s : d.stations)
        s.thickness = thickness(s.radius / (0.5 * p.diameter));
    return d;
}

// A print of that blade. One came out 1 deg fine: it stops pulling before both its two- and its
// four-bladed sisters (propellers/README.md, caveats). It is taken as it came out.
inline BladeDescription print_blade(const MeasuredPropeller& p) {
    BladeDescription d = clark_y_blade(p);
    if (p.name == "nr640_9in_beta15_3b")
        for (Station& s : d.stations)
            s.angle -= std::numbers::pi / 180.0;
    return d;
}

inline BladeDescription blade_on(const MeasuredPropeller& p, const std::string& section) {
    BladeDescription d;
    d.diameter = p.diameter;
    d.blades = p.blades;
    d.sections = {library_section(section)};
    d.stations = p.stations;
    return d;
}

inline double median(std::vector<double> v) {
    std::sort(v.begin(), v.end());
    return v[v.size() / 2];
}

// An invented torque curve of two-stroke shape, scaled so that at `reference` it gives `torque`.
inline Engine scaled_engine(double reference, double torque) {
    EngineDescription e;
    const double shape[][2] = {{0.4, .40},  {0.5, .62}, {0.6, .82}, {0.7, .92},  {0.8, 1.0},
                               {0.9, 1.03}, {1.0, 1.0}, {1.1, .93}, {1.25, .80}, {1.4, .6}};
    for (const auto& point : shape)
        e.table.push_back({reference * point[0], torque * point[1]});
    e.day_correction = DayCorrection::none;
    return Engine(std::move(e));
}

// Measured standing still on that engine: the speed at which it gives the torque measured, and the
// thrust there. Outside the measured speeds the nearest coefficients are held.
struct StandingStill {
    double rotation = 0.0, thrust = 0.0;
};

inline StandingStill measured_match(const MeasuredPropeller& p, const Engine& engine) {
    const Air air;
    std::vector<double> w, ct, cp;
    for (const MeasuredStatic& s : p.statics)
        if (w.empty() || s.rotation > w.back() + 1e-6) {
            w.push_back(s.rotation);
            ct.push_back(s.ct);
            cp.push_back(s.cp);
        }
    const Curve thrust(w, ct), power(w, cp);
    const double d5 = std::pow(p.diameter, 5);
    double low = engine.lowest_rotation(), high = engine.highest_rotation();
    for (int k = 0; k < 80; ++k) {
        const double x = 0.5 * (low + high);
        const double n = x / (2.0 * std::numbers::pi);
        const double asked = power(x) * air.density * n * n * d5 / (2.0 * std::numbers::pi);
        (engine.torque(x, air).value > asked ? low : high) = x;
    }
    const double n = low / (2.0 * std::numbers::pi);
    return {low, thrust(low) * air.density * n * n * std::pow(p.diameter, 4)};
}

}  // namespace loadline::test
