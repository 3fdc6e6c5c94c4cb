#include "sample-models/write_model.h"

#include <APIHeaderSection_MakeHeader.hxx>
#include <BRepMesh_IncrementalMesh.hxx>
#include <Interface_Static.hxx>
#include <Message.hxx>
#include <Message_Messenger.hxx>
#include <Message_PrinterOStream.hxx>
#include <STEPControl_Writer.hxx>
#include <StlAPI_Writer.hxx>
#include <TCollection_HAsciiString.hxx>
#include <stdexcept>
#include <string>

namespace tearline::samples {
namespace {

constexpr double deflection = 1.0;  // [mm]
constexpr double turn = 0.35;       // [rad] between neighbouring facets at most

Handle(TCollection_HAsciiString) text(const std::string& value) {
    return new TCollection_HAsciiString(value.c_str());
}

void write_step(const TopoDS_Shape& shape, const std::filesystem::path& file) {
    STEPControl_Writer writer;
    Interface_Static::SetCVal("write.step.unit", "MM");
    Interface_Static::SetIVal("write.surfacecurve.mode", 0);  // no curves in (u, v): half the size
    if (writer.Transfer(shape, STEPControl_AsIs) != IFSelect_RetDone) {
        throw std::runtime_error("cannot turn " + file.string() + " into STEP");
    }
    APIHeaderSection_MakeHeader header(writer.Model());
    header.SetName(text(file.filename().string()));
    header.SetTimeStamp(text("2000-01-01T00:00:00"));  // so that the same model is the same bytes
    header.SetAuthorValue(1, text("Saltmarsh Yard"));
    header.SetOrganizationValue(1, text("Saltmarsh Yard"));
    header.SetOriginatingSystem(text("Tearline sample models"));
    if (writer.Write(file.c_str()) != IFSelect_RetDone) {
        throw std::runtime_error("cannot write " + file.string());
    }
}

}  // namespace

void write_model(const TopoDS_Shape& shape, const std::filesystem::path& stem) {
    Message::DefaultMessenger()->RemovePrinters(STANDARD_TYPE(Message_PrinterOStream));
    write_step(shape, stem.string() + ".step");
    BRepMesh_IncrementalMesh mesh(shape, deflection, Standard_False, turn);
    StlAPI_Writer writer;
    writer.ASCIIMode() = Standard_False;
    const std::string file = stem.string() + ".stl";
    if (!writer.Write(shape, file.c_str())) throw std::runtime_error("cannot write " + file);
}

}  // namespace tearline::samples
