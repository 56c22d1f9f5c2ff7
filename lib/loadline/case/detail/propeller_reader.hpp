#pragma once
/// One [[propeller]] of the case file -> a blade description that Blade accepts.

#include "loadline/blade/label.hpp"
#include "loadline/case/detail/section_library.hpp"
#include "loadline/scenario/scenario.hpp"
#include "loadline/strength/laminate.hpp"

#include <array>
#include <functional>
#include <map>
#include <optional>
#include <set>
#include <string>
#include <string_view>
#include <vector>

namespace loadline {

/// Reads one propeller. With faults noted the result is not to be used.
Propeller read_propeller(Fields fields, SectionLibrary& library, CaseFaults& faults);

/// A section told by its looks: the measured one of that kind, and its camber where the looks say
/// another. What looks like what is common practice, no source.
struct Look {
    std::string_view words;
    std::string_view section;
    std::optional<double> camber;
};

extern const std::array<Look, 4> looks;

/// What a propeller or a station says of its section.
struct WrittenSection {
    std::string name;
    const Look* look = nullptr;
    Place place;
    bool lost = false;  // something was written and did not read

    [[nodiscard]] bool written() const { return lost || look || !name.empty(); }
};

/// Heights of the mean line above the line from nose to tail, over chord, at 50 and 75 % of it.
struct Heights {
    std::optional<double> half, three_quarters;
    Place place;
};

/// A station as written: what was read of it, and where each field stands.
struct WrittenStation {
    Station station;
    WrittenSection section;  // not written: the propeller's
    Heights heights;         // the same
    Place place;
    std::map<std::string, Place, std::less<>> places;
    bool sound = true;  // radius, chord and angle were read
};

/// The two lengths of "136 x 68 cm".
struct LabelText {
    double diameter = 0.0;
    double pitch = 0.0;
};

/// Errors: QuantityError.
LabelText parse_label(const std::string& text);

/// The reading of one table: first its own keys, then the stations, at last the sections, which
/// need the blade's width.
class PropellerReader {
public:
    PropellerReader(Fields fields, SectionLibrary& library, CaseFaults& faults)
        : fields_(std::move(fields)), library_(library), faults_(faults) {}

    Propeller read();
    /// What a table says of material and making, by the keys a propeller has for it.
    static BladeBuild build_of(Fields& fields, SectionLibrary& library, CaseFaults& faults,
                               const Material& otherwise);

private:
    void read_shape();
    void read_build();
    void read_material();
    std::optional<Material> read_own_material(Fields own);
    void read_layup();
    void read_core();
    void check_core_mass();
    std::optional<Core> read_own_core(Fields own);
    std::optional<Ply> read_ply(const Node& item, std::string_view row);
    void read_hub_mass();
    void read_working_stress();
    std::optional<HubBolts> read_bolts(Fields bolts);
    static MakingChoices read_making(Fields making);
    void read_blade();
    std::optional<LabelText> read_label_text(const Node& node);
    void read_label(const Node* label);
    bool read_label_lengths(const Node* label, BladeLabel& into);
    bool check_written_label(const Node* label, const BladeLabel& read);
    void read_stations(const Node& list);
    WrittenSection read_section_of(Fields& fields, std::string_view otherwise);
    std::optional<double> read_blade_share(std::string_view key, Range range);
    void take_zero_lift(WrittenStation& w);
    void take_usual_thickness();
    WrittenStation read_station(const Node& node);
    void read_row(const Node& node, WrittenStation& into);
    void read_station_table(const Node& node, WrittenStation& into);
    std::optional<double> read_share(const Node& node, std::string_view label,
                                     std::optional<double> chord);
    void choose_sections();
    [[nodiscard]] std::string section_of(WrittenStation& w, const WrittenSection& choice) const;
    [[nodiscard]] std::string_view camber_of_unknown() const;
    void write_note(const std::set<const Look*>& taken, bool unknown_taken,
                    bool unknown_everywhere);
    [[nodiscard]] double aspect_ratio() const;
    [[nodiscard]] Place place_of(const WrittenStation& station, const std::string& field) const;
    void check();

    Fields fields_;
    SectionLibrary& library_;
    Material otherwise_ = default_material();  // where none is said
    CaseFaults& faults_;
    Propeller propeller_;
    WrittenSection section_;  // the propeller's own
    std::optional<double> thickness_, camber_;
    Heights heights_;
    std::optional<BladeLabel> label_;  // of a blade without stations
    bool reference_said_ = false;      // angle_reference is written
    std::vector<WrittenStation> written_;
    std::set<std::string> unsure_;  // fields that are missing or did not read
    bool stations_read_ = false;
};

}  // namespace loadline
