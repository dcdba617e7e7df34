// The shells of a part as bricks for CalculiX: every quadrilateral drawn out through the thickness of its sheet into
// one C3D8I (eight nodes, incompatible modes), which is what ccx itself makes of its four-node shells, or where asked
// for, beside welds and where it is no parallelogram, into a brick that does better (ccx_sheet_brick.h). One layer of
// bricks shears alike all through the sheet, where a sheet has a parabola: as in our shells 5/6 of the modulus make up
// for that.
//
// A mesh node becomes a pair of bricks' nodes, x + d and x - d, d square to the sheet. Where sheets meet at an angle
// each has a pair of its own (a mitred C3D8I fails the patch test: a fold bends when its sheet is pulled), and
// equations tie the pairs as a fold does: middles move alike, both sheets turn alike about the fold, and at a blunt
// fold, as between the facets of a tube, what twists the one twists the other.
//
// `to_unknowns` takes the bricks' displacements to the unknowns of PartModel (6 per mesh node):
//   u = (u+ + u-) / 2,   rotation square to d = d x (u+ - u-) / (2 |d|^2),   rotation about d: mean turn of the lines
//   to the node's neighbours (on a rim: along the rim)
// (the mean over a fold's pairs, so that both sheets have their share of a moment), and its transpose takes loads on
// the shells to loads on the bricks that do the same work.
#pragma once

#include "ccx_sheet_brick.h"
#include "distortion/part_model.h"

#include <iosfwd>
#include <string>

namespace holdtrue::distortion::testing {

// Sheet bricks, of cells that touch a weld or are skewed, make a run two to four times as long.
enum class CcxKind { plain, with_sheet_bricks };

class CcxBricks {
public:
    explicit CcxBricks(const PartModel& model, CcxKind kind = CcxKind::plain);

    // Pair p is the bricks' nodes 2 p + 1 (lower, x - d) and 2 p + 2.
    int pair_count() const { return static_cast<int>(pairs_.size()); }
    int node_count() const { return 2 * pair_count(); }
    int mesh_node(int pair) const { return pairs_[static_cast<std::size_t>(pair)].mesh_node; }
    // 6 mesh nodes x 3 bricks' nodes; unknown k of bricks' node n is 3 (n - 1) + k.
    const Eigen::SparseMatrix<double, Eigen::RowMajor>& to_unknowns() const { return to_unknowns_; }
    int last_node() const { return node_count() + nodes_of_sheet_brick * static_cast<int>(sheet_bricks_.size()); }
    // Nodes (set ALL: those of pairs), elements, folds and the one material, whose expansion per degree is 1: a node's
    // "temperature" is its thermal strain, which C3D8I takes as the mean of the element's nodes, as our shells do.
    std::string deck() const;
    // Gives the sheet bricks' nodes other numbers, for the deck from now on; false: there are no others.
    bool renumber();
    // "Temperatures" of all nodes of elements, from the strains of the mesh's (empty: none).
    void write_heat(std::ostream& out, const Eigen::VectorXd& strain_of_node) const;

private:
    struct Pair {
        int mesh_node;
        Eigen::Vector3d half_thickness_m; // d
    };
    // Behind the pairs' nodes each sheet brick has twenty of its own, one for each of its modes, and one whose first
    // two displacements are the modes square to the sheet.
    static constexpr int nodes_of_sheet_brick = CcxSheetBrick::node_count + CcxSheetBrick::mode_count + 1;
    void make_pairs();
    void choose_sheet_bricks();
    std::vector<std::vector<int>> neighbours() const;
    using MapEntries = std::vector<Eigen::Triplet<double, int>>;
    void make_map();
    static int first_unknown(int pair) { return 6 * pair; } // of the lower node; the upper's are the next three
    const Eigen::Vector3d& place_of(int mesh_node) const {
        return model_->mesh().position_m[static_cast<std::size_t>(mesh_node)];
    }
    void write_fold(std::ostringstream& out, int a, int b, const std::vector<int>& about) const;
    void write_twist(std::ostringstream& out, int a, int b, const std::vector<int>& about) const;
    void write_sheet_bricks(std::ostream& nodes, std::ostringstream& elements, std::ostringstream& equations) const;
    void write_steel(std::ostream& out) const;
    // Lower nodes, then upper ones, in the order of the element's corners.
    std::array<int, 8> nodes_of_element(std::size_t element) const;
    Eigen::Vector3d place_of_node(int node) const;
    CcxSheetBrick::Places places_of_element(std::size_t element) const;
    void add_share(MapEntries& entries, int pair, const std::vector<int>& about) const;

    const PartModel* model_;
    std::vector<Pair> pairs_;
    std::vector<std::vector<int>> pairs_of_node_; // by mesh node
    std::vector<std::array<int, 4>> pairs_of_element_;
    std::vector<std::size_t> sheet_bricks_; // elements, in the order of their nodes
    Eigen::SparseMatrix<double, Eigen::RowMajor> to_unknowns_;
};

} // namespace holdtrue::distortion::testing
