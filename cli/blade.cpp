// loadline blade: does this blade work, and will it hold?

#include "cli/blade.hpp"

#include "cli/file.hpp"
#include "cli/output.hpp"
#include "loadline/case/text.hpp"
#include "loadline/quantity/quantity.hpp"
#include "loadline/scenario/rotors.hpp"
#include "loadline/study/blade_sheet.hpp"
#include "loadline/study/needed_thickness.hpp"
#include "loadline/words/blade_words.hpp"
#include "loadline/words/questions.hpp"

#include <fmt/format.h>
#include <filesystem>

namespace loadline::cli {
namespace {

constexpr double greatest_airspeed = 200.0;  // m/s

FlightPhase phase_of(const BladeRequest& request) {
    if (!request.at || *request.at == "static")
        return FlightPhase::standing;
    if (*request.at == "climb")
        return FlightPhase::climb;
    if (*request.at == "cruise")
        return FlightPhase::cruise;
    throw UsageError(fmt::format("--at: \"{}\" is not known", quotable(*request.at)),
                     "write static, climb or cruise");
}

double speed_of(const BladeRequest& request) {
    if (!request.speed)
        return 0.0;
    try {
        const double speed = parse_quantity(*request.speed, Dimension::speed);
        if (speed >= 0.0 && speed <= greatest_airspeed)
            return speed;
    } catch (const QuantityError& error) {
        throw UsageError(fmt::format("--speed: {}", error.what()), error.remedy);
    }
    throw UsageError("--speed: out of range", fmt::format("write 0 to {} m/s", greatest_airspeed));
}

// What is to be written has names, and names of their own.
void check_files(const BladeRequest& request) {
    struct Asked {
        const char* option;
        const Text& file;
        const char* example;
    };
    const Asked all[] = {{"--drawing", request.drawing, "blade.pdf"},
                         {"--svg", request.svg, "blade.svg"},
                         {"--solid", request.solid, "blade.stl"},
                         {"--mould", request.mould, "mould.stl"},
                         {"--page", request.page, "blade.html"}};
    std::vector<std::pair<const char*, std::filesystem::path>> written;
    for (const Asked& one : all) {
        if (!one.file)
            continue;
        const std::string remedy = fmt::format("name a file, such as {}", one.example);
        if (one.file->empty())
            throw UsageError(fmt::format("{}: the file name is empty", one.option), remedy);
        check_named(*one.file, remedy);
        std::vector<std::string> names = {*one.file};
        if (&one.file == &request.mould)
            for (const std::string& half : mould_files(*one.file))
                names.push_back(half);
        for (const std::string& name : names)
            for (const auto& [option, other] : written)
                if (other == std::filesystem::path(name).lexically_normal())
                    throw UsageError(
                        fmt::format("{} and {} name the same file", option, one.option),
                        "name two");
        for (const std::string& name : names)
            written.emplace_back(one.option, std::filesystem::path(name).lexically_normal());
    }
    if (request.force && written.empty())
        throw UsageError("--force stands here without --drawing, --svg, --solid, --mould or --page",
                         "leave it out");
}

void check_options(const BladeRequest& request) {
    if (request.units() == Units::imperial) {
        throw UsageError("blade writes millimetres and newtons only",
                         "leave --units out: a case in inches is read all the same");
    }
    if (request.at && request.rpm)
        throw UsageError("--at and --rpm both say where to look", "keep one of them");
    if (request.speed && !request.rpm) {
        throw UsageError("--speed stands here without --rpm",
                         "add --rpm, the rotation that goes with it");
    }
    check_files(request);
    if (request.worksheet && request.measured) {
        throw UsageError("--worksheet and --measured together",
                         "print the sheet first, and compare what was measured in a second run");
    }
    if (request.worksheet && request.page)
        throw UsageError("--worksheet and --page together",
                         "print the sheet first, and write the page in a second run");
    static_cast<void>(phase_of(request));
    static_cast<void>(speed_of(request));
    check_drawings(request);
    check_solid(request);
    check_mould(request);
}

// The case, the propeller and everything around it, nothing computed yet. In place: the setting
// points into it.
void prepare(BladeAnswer& a, const BladeRequest& request) {
    check_options(request);
    a.from = case_of(request);
    a.propeller = chosen_propellers(a.from, request.propeller).front();
    a.rotor.emplace(blade_rotor_of(a.from, *a.propeller));
    a.setting = blade_setting(a.from, *a.propeller, *a.rotor);
    if (!request.propeller && a.from.propellers.size() > 1)
        a.notes.emplace_back(first_taken_note());
    if (a.propeller->description.stations.size() > most_stations_shown)
        a.notes.push_back(stations_note(a.propeller->description.stations.size()));
    Case alone = a.from;
    alone.engine.reset();
    alone.notes.clear();
    for (std::string& line : case_notes(alone, {a.propeller}))
        a.notes.push_back(std::move(line));
    a.unusual = unusual_in(a.from, {a.propeller}, request.units());
}

std::vector<MeasuredStation> measured_in(const BladeAnswer& a, const BladeRequest& request) {
    if (!request.measured)
        return {};
    std::vector<MeasuredStation> measured = read_measured_blade(*request.measured);
    if (const auto fault = measured_fault(a.rotor->blade(), measured))
        throw std::invalid_argument(sentence(*fault, a.rotor->blade()));
    return measured;
}

void look(BladeAnswer& a, const BladeRequest& request) {
    const std::vector<MeasuredStation> measured = measured_in(a, request);
    BladeCondition condition;
    if (request.rpm) {
        condition = {FlightPhase::stated, {speed_of(request), rotation_of(*request.rpm)}, 0.0};
        condition.airspeed = condition.point.airspeed;
    } else {
        const ConditionFound found = find_condition(a.setting, phase_of(request));
        if (const std::string assumed = assumed_of(found); !assumed.empty())
            a.notes.push_back(assumed);
        if (!found.condition) {
            a.why_not = why_not(found);
            return;
        }
        condition = *found.condition;
    }
    a.study = study_blade(a.setting, condition);
    if (a.study->now.status != RotorStatus::converged) {
        a.why_not = sentence(a.study->warnings.front());
        a.study.reset();
        return;
    }
    a.study->needs = needed_thickness(a.setting, *a.study);
    if (request.measured) {
        BladeCondition standing = condition;
        standing.point.airspeed = standing.airspeed = 0.0;
        if (a.setting.engine && a.setting.drive) {
            if (const auto found = find_condition(a.setting, FlightPhase::standing).condition)
                standing = *found;
        }
        a.measured = compare_with_plan(a.setting, standing, measured);
    }
}

Outcome run(const BladeRequest& request) {
    BladeAnswer a;
    prepare(a, request);
    Outcome outcome;
    if (!request.worksheet)
        look(a, request);
    for (const std::string& note : write_mould(a, request))
        outcome.err += wrapped("loadline blade: " + note);
    if (request.mould)
        for (const std::string& file : mould_files(*request.mould))
            outcome.err += fmt::format("loadline blade: wrote {}\n", as_typed(file));
    // After the mould, which may not be possible where the solid is.
    for (const std::string& note : write_solid(a, request))
        outcome.err += wrapped("loadline blade: " + note);
    if (request.solid)
        outcome.err += fmt::format("loadline blade: wrote {}\n", as_typed(*request.solid));
    std::vector<std::string> assumed;
    const std::vector<std::string> drawn = write_drawings(a, request, assumed);
    if (request.worksheet) {
        if (!request.solid)  // where it was told already
            a.notes.insert(a.notes.end(), assumed.begin(), assumed.end());
        Outcome sheet = blade_worksheet(a, request, drawn);
        sheet.err.insert(0, outcome.err);
        return sheet;
    }
    for (const std::string& note : assumed)
        if (!request.solid)
            outcome.err += wrapped("loadline blade: " + note);
    for (const std::string& file : drawn)
        outcome.err += fmt::format("loadline blade: wrote {}\n", as_typed(file));
    if (!a.study) {
        outcome.status = status_no_answer;
        outcome.err += fmt::format("loadline blade: {}\n", a.why_not);
    }
    if (request.page && a.study && a.study->now.status == RotorStatus::converged) {
        write_page(*request.page, blade_page(a), "blade",
                   {request.force, inputs_of(request, {request.measured}), {}});
        outcome.err += fmt::format("loadline blade: wrote {}\n", as_typed(*request.page));
    }
    outcome.out = request.json ? blade_document(a) : a.study ? blade_text(a) : "";
    return outcome;
}

}  // namespace

std::string blade_heading(const BladeAnswer& a) {
    return wrapped(blade_name(a.propeller->name, a.rotor->blade()));
}

constinit const Command blade_command =
    command<BladeRequest, run>("blade", "Does this blade work, and will it hold?",
                               "loadline blade cases/builder.toml --at climb");

}  // namespace loadline::cli
