#include "core/hull/cad_shape.h"

#include <BRepBuilderAPI_Sewing.hxx>
#include <BRepTools.hxx>
#include <BRep_Builder.hxx>
#include <IGESControl_Reader.hxx>
#include <IGESData_IGESModel.hxx>
#include <Interface_Check.hxx>
#include <Interface_InterfaceModel.hxx>
#include <Interface_ReportEntity.hxx>
#include <Message.hxx>
#include <Message_Messenger.hxx>
#include <Message_PrinterOStream.hxx>
#include <STEPControl_Reader.hxx>
#include <Standard_Failure.hxx>
#include <TColStd_SequenceOfAsciiString.hxx>
#include <TCollection_HAsciiString.hxx>
#include <TopExp.hxx>
#include <TopTools_IndexedDataMapOfShapeListOfShape.hxx>
#include <TopTools_IndexedMapOfShape.hxx>
#include <TopoDS.hxx>
#include <TopoDS_Shape.hxx>
#include <optional>
#include <sstream>
#include <stdexcept>

#include "core/base/printable.h"
#include "core/hull/cad_mesh.h"
#include "core/hull/check_step.h"
#include "core/hull/child_process.h"
#include "core/hull/shape_bytes.h"
#include "core/hull/tolerances.h"

namespace tearline::hull {
namespace {

constexpr std::size_t longest_unit = 40;  // [bytes] of what a file calls its unit

/// The library prints to standard output unless told not to; ours never does.
void silence() {
    static const bool done = [] {
        Message::DefaultMessenger()->RemovePrinters(STANDARD_TYPE(Message_PrinterOStream));
        return true;
    }();
    (void)done;
}

std::string short_unit(const std::string& name) {
    if (name == "millimetre" || name == "MM" || name == "MILLIMETRE") return "mm";
    if (name == "centimetre" || name == "CM") return "cm";
    if (name == "metre" || name == "M" || name == "METRE") return "m";
    if (name == "inch" || name == "INCH" || name == "IN" || name == "INCHES") return "in";
    if (name == "foot" || name == "FOOT" || name == "FT" || name == "FEET") return "ft";
    return printable(name.substr(0, longest_unit));
}

/// The first entity that the STEP reader could not load as its kind demands, or none.
std::optional<std::string> entity_at_fault(const Handle(Interface_InterfaceModel) & model) {
    for (int i = 1; i <= model->NbEntities(); ++i) {
        const bool failed =
            model->IsErrorEntity(i) || model->IsUnknownEntity(i) ||
            (model->IsReportEntity(i) && model->ReportEntity(i)->Check()->HasFailed());
        if (!failed) continue;
        const Handle(TCollection_HAsciiString) label = model->StringLabel(model->Value(i));
        return label.IsNull() ? std::string("number ") + std::to_string(i) : label->ToCString();
    }
    return std::nullopt;
}

Result<CadShape> read_step(const ModelFile& file, const Suspect& suspect) {
    STEPControl_Reader reader;
    std::istringstream stream(file.bytes);
    const std::string name = file.path.filename().string();
    if (reader.ReadStream(name.c_str(), stream) != IFSelect_RetDone) {
        return model_error(file.path, "the STEP file cannot be understood; export it again");
    }
    // Every file seen to bring the library down has an entity at fault; many with one are fine.
    const auto fault = suspect ? entity_at_fault(reader.Model()) : std::nullopt;
    if (fault) suspect(*fault);
    reader.TransferRoots();
    TColStd_SequenceOfAsciiString lengths, angles, solid_angles;
    reader.FileUnits(lengths, angles, solid_angles);
    CadShape result;
    result.unit = lengths.IsEmpty() ? "mm" : short_unit(lengths.First().ToCString());
    result.shape = std::make_shared<TopoDS_Shape>(reader.OneShape());
    return result;
}

Result<CadShape> read_iges(const ModelFile& file) {
    const MemoryFile bytes(file.bytes);  // the very bytes that were looked at, not the path's
    IGESControl_Reader reader;
    const std::string path = bytes.is_there() ? bytes.path() : file.path.string();
    if (reader.ReadFile(path.c_str()) != IFSelect_RetDone) {
        return model_error(file.path, "the IGES file cannot be understood; export it again");
    }
    reader.TransferRoots();
    CadShape result;
    const Handle(IGESData_IGESModel) model = Handle(IGESData_IGESModel)::DownCast(reader.Model());
    const auto unit = model.IsNull() ? nullptr : model->GlobalSection().UnitName();
    result.unit = unit.IsNull() ? "mm" : short_unit(unit->ToCString());
    result.shape = std::make_shared<TopoDS_Shape>(reader.OneShape());
    return result;
}

Result<CadShape> read_brep(const ModelFile& file) {
    std::istringstream stream(file.bytes);
    TopoDS_Shape shape;
    BRep_Builder builder;
    BRepTools::Read(shape, stream, builder);
    return CadShape{std::make_shared<TopoDS_Shape>(shape), "mm", 0, 0};
}

int free_edges(const TopoDS_Shape& shape) {
    TopTools_IndexedDataMapOfShapeListOfShape faces_of_edge;
    TopExp::MapShapesAndAncestors(shape, TopAbs_EDGE, TopAbs_FACE, faces_of_edge);
    int count = 0;
    for (int i = 1; i <= faces_of_edge.Extent(); ++i) {
        if (faces_of_edge(i).Extent() == 1) ++count;  // a seam has its face twice
    }
    return count;
}

int face_count(const TopoDS_Shape& shape) {
    TopTools_IndexedMapOfShape faces;
    TopExp::MapShapes(shape, TopAbs_FACE, faces);
    return faces.Extent();
}

void sew(CadShape& cad) {
    const int open = free_edges(*cad.shape);
    if (cad.faces < 2 || open == 0) return;
    BRepBuilderAPI_Sewing sewing(tolerance::sewing);
    sewing.Add(*cad.shape);
    sewing.Perform();
    const TopoDS_Shape result = sewing.SewedShape();
    if (result.IsNull() || face_count(result) == 0) return;
    cad.sewn_edges = (open - free_edges(result)) / 2;
    if (cad.sewn_edges > 0) cad.shape = std::make_shared<TopoDS_Shape>(result);
    cad.faces = face_count(*cad.shape);
}

Result<CadShape> read_any(const ModelFile& file, const Suspect& suspect) {
    switch (file.format) {
        case ModelFormat::step:
            return read_step(file, suspect);
        case ModelFormat::iges:
            return read_iges(file);
        case ModelFormat::brep:
            return read_brep(file);
        default:
            throw std::logic_error("read_cad_shape: " + format_name(file.format));
    }
}

tl::unexpected<Error> damaged(const ModelFile& file, const Standard_Failure& failure) {
    return model_error(file.path, "the " + format_name(file.format) + " file is damaged (" +
                                      failure.DynamicType()->Name() + "); export it again");
}

Result<CadShape> read_here(const ModelFile& file, const Suspect& suspect) {
    silence();
    try {
        Result<CadShape> cad = read_any(file, suspect);
        if (!cad) return cad;
        if (cad->shape->IsNull() || (cad->faces = face_count(*cad->shape)) == 0) {
            return model_error(file.path,
                               "it holds no surface: export the hull's faces, not only "
                               "its lines or triangles");
        }
        sew(*cad);
        return cad;
    } catch (const Standard_Failure& failure) {
        return damaged(file, failure);
    } catch (const std::length_error&) {  // a count in the file asked for too much room
        return model_error(file.path,
                           "the " + format_name(file.format) + " file is damaged; export it again");
    }
}

/// What the child hands over: a line with all but the shape, then the shape.
std::string handed_over(const CadShape& cad) {
    return std::to_string(cad.faces) + ' ' + std::to_string(cad.sewn_edges) + ' ' + cad.unit +
           '\n' + bytes_of(*cad.shape);
}

CadShape taken_over(std::string handed) {
    CadShape cad;
    std::istringstream stream(std::move(handed));
    stream >> cad.faces >> cad.sewn_edges >> std::ws;
    std::getline(stream, cad.unit);
    cad.shape = std::make_shared<TopoDS_Shape>(read_shape(stream));
    return cad;
}

}  // namespace

Result<std::string> read_for_parent(const ModelFile& file, const Suspect& suspect) {
    const auto cad = read_here(file, suspect);
    if (!cad) return tl::unexpected(cad.error());
    if (!mesh_faces(*cad->shape)) return model_error(file.path, cannot_be_meshed);
    return handed_over(*cad);
}

Result<CadShape> read_cad_shape(const ModelFile& file) {
    if (file.format == ModelFormat::step)
        if (const auto flaw = flaw_in_step(file.bytes)) return model_error(file.path, *flaw);
    auto handed = read_in_child(file);
    if (!handed) return tl::unexpected(handed.error());
    silence();
    try {
        return taken_over(std::move(*handed));
    } catch (const Standard_Failure& failure) {
        return damaged(file, failure);
    }
}

}  // namespace tearline::hull
