#pragma once
/// A blade as the command has looked at it, for its text, its document, its page and its worksheet.

#include "cli/command.hpp"
#include "cli/page.hpp"
#include "cli/sheet.hpp"
#include "loadline/making/solid.hpp"
#include "loadline/study/blade_study.hpp"
#include "loadline/study/measured_blade.hpp"

#include <array>
#include <optional>
#include <string>
#include <vector>

namespace loadline::cli {

struct BladeRequest : CaseRequest {
    Text at{*this, {"--at", "WHERE", "static (else), climb or cruise", "static climb cruise"}};
    Text speed{*this, {"--speed", "SPEED", "With --rpm: airspeed at the propeller"}};
    Switch worksheet{*this, {"--worksheet", "", "What ruler and level should find"}};
    Text drawing{*this, {"--drawing", "FILE", "For the bench, 1:1: .pdf, .svg, .dxf or .csv"}};
    Text svg{*this, {"--svg", "FILE", "The same in SVG, a file a sheet"}};
    Text solid{*this,
               {"--solid", "FILE", "The solid to be made, in mm: .stl, or .step if built in"}};
    Text mould{*this, {"--mould", "FILE", "Both halves of a blade's mould, binary STL in mm"}};
    Switch force{*this, {"--force", "", "Replace drawings that are there"}};
    Text measured{*this,
                  {"--measured", "FILE", "A measured blade: CSV radius_mm,chord_mm,level_deg"}};
    Text propeller{*this, propeller_option};
    Text page{*this, page_option};
    Text rpm{*this, rpm_option};
};

struct BladeAnswer {
    Case from;
    const Propeller* propeller = nullptr;
    std::optional<Rotor> rotor;
    BladeSetting setting;
    std::optional<BladeStudy> study;
    std::optional<MeasuredBlade> measured;
    std::string why_not;
    std::vector<std::string> unusual;  ///< asked before the answer
    std::vector<std::string> notes;
};

/// Its name and size, wrapped.
std::string blade_heading(const BladeAnswer& a);

/// Every station; of what it carries too.
Sheet station_sheet(const BladeStudy& study);
/// Where the power goes: the name of its share in the document, what people read, W.
struct PowerShare {
    const char* key;
    const char* words;
    double watts;
};
std::vector<PowerShare> power_shares(const BladeStudy& study);
/// The same as a table.
Sheet power_sheet(const BladeStudy& study);
/// What to change one at a time, most gain first; whether anything is worth it.
Sheet changes_sheet(const BladeStudy& study);
bool has_gains(const BladeStudy& study);
/// What small faults of making do.
Sheet fault_sheet(const BladeAnswer& a);
/// Multiples of rotation against the first flapping.
Sheet order_sheet(const BladeFlapping& flapping);
/// The blade as measured, against its plan.
Sheet measured_sheet(const MeasuredBlade& measured);
/// The same, a line for each blade: what it is on the whole, weighs and bears.
Sheet made_sheet(const MeasuredBlade& measured);

/// Columns for people, in order: of what each station carries and how thick it has to be, of
/// faults, of the blade as measured.
std::vector<Pick> load_picks();
std::vector<Pick> need_picks();
std::vector<Pick> fault_picks(const BladeAnswer& a);
std::vector<Pick> measured_picks();
std::vector<Pick> made_picks();

std::string blade_text(const BladeAnswer& a);
std::string blade_document(const BladeAnswer& a);
Page blade_page(const BladeAnswer& a);
/// The blade as a solid, by rings as close as `tolerance` [m] asks for. Errors: MakingError.
BladeSolid made_solid(const BladeAnswer& a, double tolerance = 1e-4);
/// Whether what is asked for may be written, before anything is worked out. Errors: UsageError.
void check_drawings(const BladeRequest& request);
void check_solid(const BladeRequest& request);
void check_mould(const BladeRequest& request);
/// Writes the drawings that were asked for; their files. What was assumed goes into `notes`.
std::vector<std::string> write_drawings(const BladeAnswer& a, const BladeRequest& request,
                                        std::vector<std::string>& notes);
/// Writes the solid that was asked for; what was written and assumed, a line each.
std::vector<std::string> write_solid(const BladeAnswer& a, const BladeRequest& request);
/// The files of a mould's lower and upper half, by the name that was asked for.
std::array<std::string, 2> mould_files(const std::string& file);
/// Writes the mould that was asked for; what was written and assumed, a line each.
std::vector<std::string> write_mould(const BladeAnswer& a, const BladeRequest& request);
/// What ruler and level should find, and the drawings' `files`.
Outcome blade_worksheet(const BladeAnswer& a, const BladeRequest& request,
                        const std::vector<std::string>& files);

}  // namespace loadline::cli
