// The solid as STEP, through Open CASCADE.

#include "loadline/making/step.hpp"
#include "loadline/making/step/faces.hpp"

#include <fmt/format.h>
#include <APIHeaderSection_MakeHeader.hxx>
#include <BRepBuilderAPI_MakeSolid.hxx>
#include <BRepBuilderAPI_Sewing.hxx>
#include <BRepLib.hxx>
#include <Message.hxx>
#include <Message_Messenger.hxx>
#include <STEPControl_Writer.hxx>
#include <Standard_Failure.hxx>
#include <StepBasic_Product.hxx>
#include <StepData_Protocol.hxx>
#include <StepData_StepModel.hxx>
#include <StepData_StepWriter.hxx>
#include <TCollection_HAsciiString.hxx>
#include <TopoDS.hxx>
#include <TopoDS_Solid.hxx>
#include <XSControl_WorkSession.hxx>
#include <numbers>
#include <sstream>

namespace loadline {
namespace {

// The library says nothing while this stands.
class Silence {
public:
    Silence() : said_(Message::DefaultMessenger()->Printers()) {
        Message::DefaultMessenger()->ChangePrinters().Clear();
    }
    ~Silence() { Message::DefaultMessenger()->ChangePrinters() = said_; }
    Silence(const Silence&) = delete;
    Silence& operator=(const Silence&) = delete;

private:
    Message_SequenceOfPrinters said_;
};

TopoDS_Solid sewn(const BladeSolid& solid) {
    const RingGrid grid = grid_of(solid);
    constexpr double together = 1e-4;  // mm; edges that are one lie on each other but for rounding
    BRepBuilderAPI_Sewing sewing(together);
    for (int k = 0; k < solid.blades; ++k)
        for (const TopoDS_Face& face :
             blade_faces(grid, !solid.hub, 2.0 * std::numbers::pi * k / solid.blades))
            sewing.Add(face);
    if (solid.hub)
        for (const TopoDS_Face& face : block_faces(*solid.hub, solid.blades, grid))
            sewing.Add(face);
    sewing.Perform();
    const TopoDS_Shape shell = sewing.SewedShape();
    if (sewing.NbFreeEdges() > 0 || shell.IsNull() || shell.ShapeType() != TopAbs_SHELL)
        throw MakingError("its surfaces do not close", "take STL");
    TopoDS_Solid made = BRepBuilderAPI_MakeSolid(TopoDS::Shell(shell));
    BRepLib::OrientClosedSolid(made);
    return made;
}

Handle(TCollection_HAsciiString) written(const std::string& text) {
    return new TCollection_HAsciiString(text.c_str());
}

// Neither when nor by whom it was written.
void put_header(const Handle(StepData_StepModel) & model, const std::string& name) {
    APIHeaderSection_MakeHeader header(model);
    const Handle(TCollection_HAsciiString) none = written("");
    header.SetName(written(name));
    header.SetTimeStamp(written("1970-01-01T00:00:00"));
    header.SetAuthorValue(1, none);
    header.SetOrganizationValue(1, none);
    header.SetPreprocessorVersion(written("loadline"));
    header.SetOriginatingSystem(written("loadline"));
    header.SetAuthorisation(none);
    header.SetDescriptionValue(1, written("blade, millimetres"));
    for (int i = 1; i <= model->NbEntities(); ++i)
        if (const auto product = Handle(StepBasic_Product)::DownCast(model->Value(i));
            !product.IsNull()) {
            product->SetId(written(name));
            product->SetName(written(name));
        }
}

// The library writes names as they are: characters beyond ASCII as the format has them (ISO
// 10303-21: their codes between \X2\ or \X4\ and \X0\).
std::string in_ascii(const std::string& text) {
    std::string ascii;
    for (std::size_t i = 0; i < text.size();) {
        const auto byte = static_cast<unsigned char>(text[i++]);
        if (byte < 0x80) {
            ascii += static_cast<char>(byte);
            continue;
        }
        unsigned code = byte & (byte < 0xe0 ? 0x1fU : byte < 0xf0 ? 0x0fU : 0x07U);
        for (; i < text.size() && (static_cast<unsigned char>(text[i]) & 0xc0U) == 0x80U; ++i)
            code = code << 6U | (static_cast<unsigned char>(text[i]) & 0x3fU);
        ascii += code < 0x10000 ? fmt::format("\\X2\\{:04X}\\X0\\", code)
                                : fmt::format("\\X4\\{:08X}\\X0\\", code);
    }
    return ascii;
}

std::string text_of(const TopoDS_Solid& solid, const std::string& name) {
    STEPControl_Writer writer;
    if (writer.Transfer(solid, STEPControl_AsIs) != IFSelect_RetDone)
        throw MakingError("its surfaces cannot be written as STEP", "take STL");
    const Handle(StepData_StepModel) model = writer.Model();
    put_header(model, name);
    StepData_StepWriter text(model);
    text.SendModel(Handle(StepData_Protocol)::DownCast(writer.WS()->Protocol()));
    std::ostringstream stream;
    if (!text.Print(stream))
        throw MakingError("its surfaces cannot be written as STEP", "take STL");
    return in_ascii(stream.str());
}

}  // namespace

bool writes_step() {
    return true;
}

std::string step_of(const BladeSolid& solid, std::string_view name) {
    const Silence silence;
    try {
        std::string plain(name);
        for (char& c : plain)
            if (static_cast<unsigned char>(c) < ' ' || c == '\x7f')
                c = ' ';
        return text_of(sewn(solid), plain);
    } catch (const Standard_Failure& failure) {
        throw MakingError(fmt::format("no STEP comes of it: {}", failure.GetMessageString()),
                          "take STL");
    }
}

}  // namespace loadline
