#include "cli/run.hpp"

#include "cli/command.hpp"
#include "loadline/case/text.hpp"

#include <fmt/format.h>
#include <unistd.h>
#include <CLI/CLI.hpp>
#include <algorithm>
#include <array>
#include <functional>
#include <iostream>
#include <ostream>

namespace loadline::cli {
namespace {

struct Command {
    const char* name;
    const char* answers;
    const char* example;
    Outcome (*run)(const Request&);
};

constexpr std::array<Command, 7> commands = {{
    {"match", "At which speed do engine and propeller agree?",
     "loadline match cases/demo.toml --speeds \"0, 10, 14 m/s\"", match_command},
    {"compare", "My propeller against others, over the whole flight",
     "loadline compare cases/paraglider.toml --sort quiet", compare_command},
    {"curve", "CT, CP and efficiency of one propeller in flight",
     "loadline curve cases/demo.toml --rpm 1900 --advance-ratio 0,0.1,0.2", curve_command},
    {"lesson", "Why does a heavier-pitched propeller lower the rpm?",
     "loadline lesson cases/paraglider.toml --page lesson.html", lesson_command},
    {"sections", "The airfoils a case may name, and their sources", "loadline sections",
     sections_command},
    {"blade", "Does this blade work, and will it hold?",
     "loadline blade cases/builder.toml --at climb", blade_command},
    {"new", "Write a commented case file to start from", "loadline new my-case.toml", new_command},
}};

std::vector<std::string> command_names() {
    std::vector<std::string> names;
    for (const Command& command : commands) {
        names.emplace_back(command.name);
    }
    return names;
}

// Options the user may have meant, of the command that was named.
std::vector<std::string> option_names(const CLI::App& app) {
    std::vector<std::string> names;
    for (const CLI::Option* option : app.get_options()) {
        for (const std::string& name : option->get_lnames()) {
            names.push_back("--" + name);
        }
    }
    return names;
}

class Line {
public:
    Line();
    // The status when the line was answered here (help, version, a mistake), else nothing.
    std::optional<int> parse(const std::vector<std::string>& args, Outcome& outcome);
    [[nodiscard]] const Request& request() const { return request_; }
    [[nodiscard]] const Command& command() const { return *command_; }

private:
    void add(const Command& command);
    void add_blade_options(CLI::App* sub);
    void refuse(Outcome& outcome, const std::string& what, const std::string& remedy) const;
    void refuse_extras(Outcome& outcome) const;

    CLI::App app_{"Loadline: which speed do an engine and a propeller agree on?", "loadline"};
    Request request_;
    const Command* command_ = nullptr;
    std::string units_ = "metric";
    std::string propeller_, speeds_, rpm_, advance_ratio_, against_, sort_;
    bool no_band_ = false;
    bool no_plot_ = false;
    std::string at_, speed_, svg_, measured_, page_;
};

Line::Line() {
    app_.set_help_flag("--help,-h", "Print this and end");
    app_.set_version_flag("--version", std::string("loadline ") + LOADLINE_VERSION,
                          "Print the version and end");
    app_.get_formatter()->column_width(24);
    app_.require_subcommand(1);
    for (const Command& command : commands) {
        add(command);
    }
    app_.footer(
        "Example: loadline match cases/demo.toml\n"
        "loadline COMMAND --help says more of a command.\n"
        "Exit status: 0 done; 1 the case is sound but has no answer; 2 wrong input.");
}

void Line::add(const Command& command) {
    const std::string name = command.name;
    CLI::App* const sub = app_.add_subcommand(name, command.answers);
    sub->set_help_flag("--help,-h", "Print this and end");
    sub->add_flag("--json", request_.json, "One JSON document with SI numbers");
    sub->add_option("--units", units_, "metric or imperial, in text")->type_name("SYSTEM");
    if (name == "new") {
        sub->add_option("FILE", request_.case_file, "Where to write it; left out: print it")
            ->type_name("");
        sub->add_flag("--force", request_.force, "Replace the file if it is there");
    } else {
        auto* const file =
            sub->add_option("CASE", request_.case_file,
                            name == "sections" ? "A case, to see the sections beside it too"
                                               : "The case file")
                ->type_name("");
        file->required(name != "sections");
        sub->add_option("--airfoils", request_.airfoils, "One more folder of sections")
            ->type_name("FOLDER");
    }
    if (name == "blade") {
        add_blade_options(sub);
    }
    if (name == "match" || name == "curve" || name == "blade" || name == "lesson") {
        sub->add_option("--propeller", propeller_, "Only the propeller of this name")
            ->type_name("NAME");
    }
    if (name == "match" || name == "curve" || name == "compare") {
        sub->add_flag("--no-band", no_band_, "Bare numbers, no nine-in-ten range");
    }
    if (name == "match" || name == "curve") {
        sub->add_flag("--no-plot", no_plot_, "No plot on a terminal");
    }
    if (name == "match" || name == "curve" || name == "compare" || name == "blade" ||
        name == "lesson") {
        sub->add_option("--page", page_, "Write a page to look at, beside the answer")
            ->type_name("FILE");
    }
    if (name == "compare") {
        sub->add_option("--sort", sort_,
                        "Order: climb, economy, quiet, cool or quick; else [wishes]")
            ->type_name("WISH");
        sub->add_flag("--csv", request_.csv, "A sheet: one row a propeller and quantity");
    }
    if (name == "curve") {
        sub->add_option("--against", against_, "Measured points: CSV advance_ratio,ct,cp")
            ->type_name("FILE");
    }
    if (name == "match") {
        sub->add_option("--speeds", speeds_, "Airspeeds, such as \"0, 10, 14 m/s\"")
            ->type_name("LIST");
    }
    if (name == "curve" || name == "blade") {
        sub->add_option("--rpm", rpm_, "Rotation of the propeller")->type_name("SPEED");
    }
    if (name == "curve") {
        sub->add_option("--advance-ratio", advance_ratio_, "Points, such as 0,0.1,0.2")
            ->type_name("LIST");
    }
    sub->footer(fmt::format("Example: {}", command.example));
}

void Line::add_blade_options(CLI::App* sub) {
    sub->add_option("--at", at_, "static (else), climb or cruise")->type_name("WHERE");
    sub->add_option("--speed", speed_, "With --rpm: airspeed at the propeller")->type_name("SPEED");
    sub->add_flag("--worksheet", request_.worksheet, "What ruler and level should find");
    sub->add_option("--svg", svg_, "With --worksheet: drawings to scale, A4")->type_name("FILE");
    sub->add_flag("--force", request_.force, "Replace drawings that are there");
    sub->add_option("--measured", measured_, "A measured blade: CSV radius_mm,chord_mm,level_deg")
        ->type_name("FILE");
}

void Line::refuse(Outcome& outcome, const std::string& what, const std::string& remedy) const {
    outcome = {status_wrong_input, {}, fmt::format("loadline: {}; {}\n", what, remedy)};
}

void Line::refuse_extras(Outcome& outcome) const {
    const std::vector<std::string> extras = app_.remaining(true);
    const std::string extra = extras.empty() ? "" : extras.front();
    const auto subs = app_.get_subcommands();
    if (!extra.starts_with('-') && !request_.case_file.empty() && !subs.empty()) {
        const bool of_a_list = request_.case_file.ends_with(',') || extra.ends_with(',') ||
                               (!extra.empty() && extra.front() >= '0' && extra.front() <= '9');
        refuse(outcome, fmt::format("\"{}\" is one word too many", quotable(extra)),
               of_a_list ? "put a list with blanks in quotes, such as --speeds \"0, 10 m/s\""
                         : "name one case at a time, and put a name with blanks in quotes");
        return;
    }
    const std::string where = subs.empty() ? "loadline" : "loadline " + subs.front()->get_name();
    const auto meant = nearest(extra.substr(0, extra.find('=')),
                               option_names(subs.empty() ? app_ : *subs.front()));
    refuse(outcome, fmt::format("\"{}\" is not understood here", quotable(extra)),
           meant ? fmt::format("perhaps {} is meant", *meant)
                 : fmt::format("\"{} --help\" lists what is", where));
}

std::optional<int> Line::parse(const std::vector<std::string>& args, Outcome& outcome) {
    if (args.empty()) {
        outcome = {status_wrong_input, {}, app_.help()};
        return outcome.status;
    }
    const std::vector<std::string> names = command_names();
    if (!args.front().starts_with('-') &&
        std::find(names.begin(), names.end(), args.front()) == names.end()) {
        const auto meant = nearest(args.front(), names);
        refuse(outcome, fmt::format("there is no command \"{}\"", quotable(args.front())),
               meant ? fmt::format("perhaps {} is meant", *meant)
                     : fmt::format("write {}", one_of(names)));
        return outcome.status;
    }
    try {
        app_.parse(std::vector<std::string>(args.rbegin(), args.rend()));
    } catch (const CLI::CallForHelp&) {
        outcome.out = app_.help();  // of the command when one is named
        return outcome.status;
    } catch (const CLI::CallForVersion& version) {
        outcome.out = std::string(version.what()) + "\n";
        return outcome.status;
    } catch (const CLI::ExtrasError&) {
        refuse_extras(outcome);
        return outcome.status;
    } catch (const CLI::ParseError& error) {
        std::string what = error.what();
        std::replace(what.begin(), what.end(), '\n', ' ');
        const auto subs = app_.get_subcommands();
        refuse(outcome, what,
               fmt::format("\"loadline{} --help\" shows how to write it",
                           subs.empty() ? "" : " " + subs.front()->get_name()));
        return outcome.status;
    }
    const CLI::App* const sub = app_.get_subcommands().front();
    const auto given = [&](const char* option, const std::string& value) {
        const CLI::Option* const found = sub->get_option_no_throw(option);
        return found && found->count() > 0 ? std::optional(value) : std::nullopt;
    };
    for (const char* file : {"CASE", "FILE"}) {
        if (given(file, request_.case_file) && request_.case_file.empty()) {
            refuse(outcome, "the file name is empty", "name a file, such as my-case.toml");
            return outcome.status;
        }
    }
    request_.command = sub->get_name();
    request_.at = given("--at", at_);
    request_.speed = given("--speed", speed_);
    request_.svg = given("--svg", svg_);
    request_.measured = given("--measured", measured_);
    request_.propeller = given("--propeller", propeller_);
    request_.speeds = given("--speeds", speeds_);
    request_.rpm = given("--rpm", rpm_);
    request_.advance_ratio = given("--advance-ratio", advance_ratio_);
    request_.against = given("--against", against_);
    request_.sort = given("--sort", sort_);
    request_.page = given("--page", page_);
    request_.band = !no_band_;
    request_.plot = !no_plot_;
    if (units_ != "metric" && units_ != "imperial") {
        refuse(outcome, fmt::format("--units: \"{}\" is not known", quotable(units_)),
               "write metric or imperial");
        return outcome.status;
    }
    request_.units = units_ == "imperial" ? Units::imperial : Units::metric;
    command_ = std::find_if(commands.begin(), commands.end(), [&](const Command& command) {
        return command.name == request_.command;
    });
    return std::nullopt;
}

Outcome outcome_of(const std::vector<std::string>& args, bool terminal) {
    Outcome outcome;
    Line line;
    if (line.parse(args, outcome)) {
        return outcome;
    }
    const std::string where = fmt::format("loadline {}: ", line.command().name);
    try {
        Request request = line.request();
        request.plot = request.plot && terminal;
        return line.command().run(request);
    } catch (const CaseError& error) {
        return {status_wrong_input, {}, std::string(error.what()) + "\n"};
    } catch (const UsageError& error) {
        return {status_wrong_input, {}, where + error.what() + "\n"};
    } catch (const std::invalid_argument& error) {
        // A value the readers let through and the library refuses.
        return {status_wrong_input, {}, where + error.what() + "; correct this value\n"};
    }
}

}  // namespace

int run(const std::vector<std::string>& args, std::ostream& out, std::ostream& err) {
    const bool terminal = &out == &std::cout && isatty(STDOUT_FILENO) == 1;
    const Outcome outcome = outcome_of(args, terminal);
    out << outcome.out << std::flush;
    if (!out) {
        err << "loadline: the answer could not be written; check the disk or the pipe it goes to\n";
        return status_wrong_input;
    }
    err << outcome.err << std::flush;
    return outcome.status;
}

}  // namespace loadline::cli
